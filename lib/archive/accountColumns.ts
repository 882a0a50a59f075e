import type { Instant } from '../../shared/time/instant.ts';
import { wastedName } from '../salt/account/columns.ts';
import type { UnitMonth } from '../salt/unitMonths.ts';
import { WASTE_CAUSES } from '../salt/waste.ts';
import { WASTE_WORDS } from '../salt/wasteWords.ts';
import type { Column } from '../table/column.ts';

/** A unit's month in one region, with what it owed: all that the rows of a region are added up from. */
export interface AccountRow extends UnitMonth {
  /** When this was written: of two rows of one unit, month and region the later stands. */
  readonly asOf: Instant;
  /** All regions that the unit has a row of the month in, by their order with a space between: no id has one. */
  readonly regions: string;
}

/**
 * The columns of files of month accounts, beside those of their partition. Another one comes behind them: Athena is said
 * to compare the columns of a partition with those of its table by their place (from memory).
 */
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
  {
    ...{ name: 'region_ids', type: 'text' },
    about: 'all regions in which the unit has a row of the month, parted by spaces',
    of: ({ regions }) => regions,
  },
  { name: 'from_date', type: 'date', about: 'first local day that the row is about', of: ({ from }) => from },
  {
    ...{ name: 'until_date', type: 'date', about: 'first local day after those that the row is about' },
    of: ({ until }) => until,
  },
  {
    ...{ name: 'resin_cft', type: 'double', about: 'resin volume, cubic feet' },
    of: ({ resinCubicFeet }) => resinCubicFeet,
  },
  {
    ...{ name: 'is_alternating', type: 'boolean', about: 'whether two beds take turns' },
    of: ({ alternating }) => alternating,
  },
  {
    ...{ name: 'installed_on', type: 'date', about: 'when it was installed' },
    of: ({ installedOn }) => installedOn,
  },
  {
    ...{
      name: 'salt_dose_lb',
      type: 'double',
      about: 'salt of a regeneration as set at the month’s end, lb',
    },
    of: ({ saltDoseLb }) => saltDoseLb,
  },
  {
    ...{ name: 'days_imputed', type: 'integer', about: 'local days without a flow day that are estimated' },
    of: ({ daysImputed }) => daysImputed,
  },
  {
    ...{ name: 'regenerations_imputed', type: 'double' },
    about: 'regenerations expected on those days, that nobody reported',
    of: ({ regenerationsImputed }) => regenerationsImputed,
  },
  {
    ...{ name: 'water_imputed_gal', type: 'double', about: 'water expected on those days, US gallons' },
    of: ({ imputedGallons }) => imputedGallons,
  },
  {
    ...{ name: 'water_imputed_variance', type: 'double', about: 'variance of that, US gallons squared' },
    of: ({ imputedGallonsVariance }) => imputedGallonsVariance,
  },
  {
    ...{ name: 'hard_water_gal', type: 'double', about: 'water that came through hard, US gallons' },
    of: ({ hardGallons }) => hardGallons,
  },
  {
    ...{ name: 'hard_water_days', type: 'integer', about: 'local days on which some did' },
    of: ({ hardDays }) => hardDays,
  },
  {
    ...{ name: 'salt_measured_variance', type: 'double' },
    about: 'variance of salt_measured_lb by the sensor’s noise, lb squared',
    of: ({ measuredVariance }) => measuredVariance,
  },
  {
    ...{ name: 'salt_measured_dose_lb', type: 'double' },
    about: 'the doses of the regenerations that were measured, lb',
    of: ({ measuredDoseLb }) => measuredDoseLb,
  },
  {
    ...{ name: 'salt_imputed_lb', type: 'double', about: 'doses of the regenerations imputed, lb' },
    of: ({ imputedSaltLb }) => imputedSaltLb,
  },
  {
    ...{ name: 'salt_imputed_variance', type: 'double', about: 'variance of that, lb squared' },
    of: ({ imputedSaltVariance }) => imputedSaltVariance,
  },
  {
    ...{ name: 'salt_delivered_lb', type: 'double', about: 'salt that technicians brought, lb' },
    of: ({ deliveredSaltLb }) => deliveredSaltLb,
  },
  {
    ...{ name: 'regeneration_water_inferred_gal', type: 'double' },
    about:
      'water of regenerations that did not say and of those imputed, by the published figure, US gallons',
    of: ({ inferredRegenerationGallons }) => inferredRegenerationGallons,
  },
  {
    ...{ name: 'grains_imputed', type: 'double' },
    about: 'hardness removed of imputed water, grains as CaCO3',
    of: ({ imputedGrains }) => imputedGrains,
  },
  ...WASTE_CAUSES.map(
    (cause): Column<AccountRow> => ({
      ...{
        name: wastedName(cause),
        type: 'double',
        about: `salt that was not needed, lb. ${WASTE_WORDS[cause].title}`,
      },
      of: ({ wasted }) => wasted[cause] ?? 0,
    }),
  ),
];
