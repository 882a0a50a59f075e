import type { Instant } from '../../shared/time/instant.ts';
import type { UnitMonth } from '../salt/unitMonths.ts';
import type { Column } from './column.ts';

/** A unit's month, with what it owed: all that the rows of a region are added up from. */
export interface AccountRow extends UnitMonth {
  /** When this was worked out: of two rows of one unit and month the later stands. */
  readonly asOf: Instant;
}

/** The columns of files of month accounts, beside those of their partition. */
export const ACCOUNT_COLUMNS: readonly Column<AccountRow>[] = [
  { name: 'unit_id', type: 'text', about: 'the unit', always: true, of: ({ unitId }) => unitId },
  {
    ...{ name: 'as_of', type: 'timestamp', about: 'when it was worked out, UTC', always: true },
    of: ({ asOf }) => asOf,
  },
  {
    ...{ name: 'days_counted', type: 'integer', about: 'local days with a flow day', always: true },
    of: ({ daysCounted }) => daysCounted,
  },
  {
    ...{ name: 'days_expected', type: 'integer', always: true },
    about: 'local days of which a flow day was owed, from the first one on',
    of: ({ daysExpected }) => daysExpected,
  },
  {
    ...{ name: 'regenerations', type: 'integer', about: 'regenerations', always: true },
    of: ({ regenerations }) => regenerations,
  },
  {
    ...{ name: 'water_treated_gal', type: 'double', about: 'treated water, US gallons', always: true },
    of: ({ treatedGallons }) => treatedGallons,
  },
  {
    ...{ name: 'salt_measured_lb', type: 'double', about: 'salt used, by level read, lb', always: true },
    of: ({ measuredSaltLb }) => measuredSaltLb,
  },
  {
    ...{ name: 'salt_inferred_lb', type: 'double', about: 'salt used, by dose, lb', always: true },
    of: ({ inferredSaltLb }) => inferredSaltLb,
  },
  {
    ...{ name: 'regeneration_water_gal', type: 'double', always: true },
    about: 'water that regenerations used, US gallons',
    of: ({ regenerationGallons }) => regenerationGallons,
  },
  {
    ...{ name: 'grains_removed', type: 'double', about: 'hardness removed, grains as CaCO3', always: true },
    of: ({ grainsRemoved }) => grainsRemoved,
  },
];
