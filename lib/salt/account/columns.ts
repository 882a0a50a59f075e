import { chlorideLb } from '../../softening/chloride.ts';
import { SODIUM_LB_PER_GRAIN, SODIUM_MASS_FRACTION } from '../../softening/sodium.ts';
import { WASTE_CAUSES, type WasteCause } from '../waste.ts';
import { wasteInFull } from '../wasteWords.ts';
import type { AccountColumn } from './accountColumn.ts';
import { amount, count, efficiency, estimate, factor, share } from './columnMakers.ts';

/** All salt in SQL: by sensor, and what is drawn of the doses of the other regenerations. */
const SALT = '(sum_salt_measured_lb + drawn_share * (sum_salt_inferred_lb + sum_salt_imputed_lb))';
const GRAINS = '(sum_grains_removed + sum_grains_imputed)';
/** Why nobody knows it to the pound. */
const SALT_UNSURE = 'sensor noise, doses that were not drawn, and days without a report';
const POSITIVE_SALT = `case when ${SALT} > 0 then ${SALT} else 0e0 end`;

const KEYS: readonly AccountColumn[] = [
  {
    ...{ name: 'region', member: 'region', type: 'text', unit: 'id', group: 'key', always: true },
    about: 'the region that the units were counted in',
    how: 'from the registry; a unit that has moved is counted in each region for its days there',
    of: ({ region }) => region,
  },
  {
    ...{ name: 'month', member: 'month', type: 'text', unit: 'YYYY-MM', group: 'key', always: true },
    about: 'the month, of local days at the sites',
    how: 'by the time zone of each site',
    of: ({ month }) => month,
  },
  {
    ...{ name: 'as_of', member: 'asOf', type: 'timestamp', unit: 'UTC', group: 'key', always: true },
    about: 'until when what was known is in it, UTC',
    how: 'the instant at which the account was worked out; facts that come later may change it',
    of: ({ asOf }) => asOf,
  },
];

const COUNTS: readonly AccountColumn[] = [
  count('units', 'units', 'units that owed a flow day or reported anything', {
    how: 'a unit counts once a region and month, whatever it reported',
    sql: 'sum_units',
  }),
  count('units_reporting', 'unitsReporting', 'units with at least one flow day', {
    how: 'as in salt.csv',
    sql: 'sum_units_reporting',
  }),
  count('units_measured', 'unitsMeasured', 'units of which a level sensor measured salt', {
    how: 'units with a regeneration whose salt was weighed before and after',
    group: 'measured',
    sql: 'sum_units_measured',
  }),
  count('unit_days_owed', 'daysExpected', 'local days of which a flow day was owed, over all units', {
    unit: 'unit-days',
    how: 'from each unit’s first flow day to the day before as_of',
    sql: 'sum_days_expected',
  }),
  count('unit_days', 'daysCounted', 'local days with a flow day, over all units', {
    unit: 'unit-days',
    how: 'as in salt.csv',
    sql: 'sum_days_counted',
  }),
  {
    ...count('unit_days_missing', 'daysExpected', 'flow days that were owed and never came', {
      unit: 'unit-days',
      how: 'owed less reported; as in salt.csv',
      sql: 'greatest(sum_days_expected - sum_days_counted, 0)',
    }),
    of: ({ daysExpected, daysCounted }) => Math.max(0, daysExpected - daysCounted),
  },
  count('unit_days_imputed', 'daysImputed', 'local days without a flow day that are estimated', {
    unit: 'unit-days',
    how: 'days of a silence of up to a year that goes on, or of two years that has ended',
    sql: 'sum_days_imputed',
  }),
  count('regenerations', 'regenerations', 'regenerations as reported', {
    unit: 'regenerations',
    how: 'as in salt.csv',
    sql: 'sum_regenerations',
  }),
  {
    ...amount('regenerations_imputed', 'regenerationsImputed', 'regenerations', 2),
    about: 'regenerations expected on days without a report, that nobody reported',
    how: 'one when the water expected has used up what the control counts on; with decimals over a long silence',
    group: 'imputed',
    sql: 'sum_regenerations_imputed',
  },
];

const WATER: readonly AccountColumn[] = [
  ...estimate('waterGallons', ['water_treated', 'gal'], {
    ...{ unit: 'US gal', decimals: 1, about: 'treated water, US gallons' },
    unsure: 'what households used on days without a report; not the meters’ own error',
    // The lower one may be what was metered.
    groups: { value: 'all', bounds: 'imputed' },
    how: 'metered and imputed; salt.csv has under this name what was metered alone',
    sql: '(sum_water_treated_gal + sum_water_imputed_gal)',
  }),
  {
    ...amount('water_metered_gal', 'treatedGallons', 'US gal', 1),
    about: 'treated water as metered, US gallons',
    how: 'sum of flow days; what salt.csv has as water_treated_gal',
    group: 'imputed',
    sql: 'sum_water_treated_gal',
  },
  {
    ...amount('water_imputed_gal', 'imputedGallons', 'US gal', 1),
    about: 'treated water expected on days without a report, US gallons',
    how: 'what the household was expected to use by its own past and the fleet’s',
    group: 'imputed',
    sql: 'sum_water_imputed_gal',
  },
];

const SALT_COLUMNS: readonly AccountColumn[] = [
  ...estimate('saltLb', ['salt_used', 'lb'], {
    ...{ unit: 'lb', decimals: 2, about: 'salt used, lb' },
    unsure: SALT_UNSURE,
    how: 'measured, inferred and imputed; salt.csv has under this name no estimate of days without a report',
    sql: SALT,
  }),
  {
    ...amount('salt_measured_lb', 'measuredSaltLb', 'lb', 2),
    about: 'salt used by level sensors, lb',
    how: 'level before a regeneration less level after it; sensor noise makes one wrong and the sum right',
    group: 'measured',
    sql: 'sum_salt_measured_lb',
  },
  {
    ...amount('salt_inferred_lb', 'inferredSaltLb', 'lb', 2),
    about: 'salt used by dose, where no level was read, lb',
    how: 'doses on record times drawn_share; salt.csv has the doses as they are',
    group: 'imputed',
    sql: 'drawn_share * sum_salt_inferred_lb',
  },
  {
    ...amount('salt_imputed_lb', 'imputedSaltLb', 'lb', 2),
    about: 'salt used by regenerations expected on days without a report, lb',
    how: 'their doses times drawn_share',
    group: 'imputed',
    sql: 'drawn_share * sum_salt_imputed_lb',
  },
  share('salt_measured_share', 'measuredSaltLb', 'measured', { part: 'sum_salt_measured_lb', whole: SALT }),
  share('salt_inferred_share', 'inferredSaltLb', 'imputed', {
    part: 'drawn_share * sum_salt_inferred_lb',
    whole: SALT,
  }),
  share('salt_imputed_share', 'imputedSaltLb', 'imputed', {
    part: 'drawn_share * sum_salt_imputed_lb',
    whole: SALT,
  }),
  ...estimate('drawnShare', ['drawn_share', ''], {
    ...{ unit: 'lb drawn a lb of dose', decimals: 4 },
    about: 'salt drawn for each lb of a dose on record',
    how: 'what level sensors of the company saw drawn in the month of the same doses, leaning on the rules salt.drawnShare',
    unsure: 'sensor noise, and how few units measured',
    groups: { value: 'drawn-share', bounds: 'drawn-share' },
  }),
  {
    ...amount('salt_delivered_lb', 'deliveredSaltLb', 'lb', 2),
    about: 'salt that technicians brought, lb',
    how: 'saltAdded of service visits; salt that a household bought is not in it',
    group: 'delivered',
    sql: 'sum_salt_delivered_lb',
  },
];

const REGENERATION_WATER: readonly AccountColumn[] = [
  {
    ...amount('regeneration_water_metered_gal', 'regenerationGallons', 'US gal', 1),
    about: 'water that regenerations used, as metered, US gallons',
    how: 'of controls that say it; what salt.csv has as regeneration_water_gal',
    group: 'regeneration-water',
    sql: 'sum_regeneration_water_gal',
  },
  {
    ...amount('regeneration_water_inferred_gal', 'inferredRegenerationGallons', 'US gal', 1),
    about: 'water of regenerations that did not say and of those imputed, US gallons',
    how: 'by resin volume and the published figure of lib/softening/regenerationWater.ts',
    group: 'regeneration-water',
    sql: 'sum_regeneration_water_inferred_gal',
  },
];

const HARDNESS: readonly AccountColumn[] = [
  {
    ...amount('grains_removed', 'grainsRemoved', 'grains as CaCO3', 0),
    about: 'hardness removed of metered water, grains as CaCO3',
    how: 'water times raw hardness, while the bed had capacity left',
    group: 'imputed',
    sql: 'sum_grains_removed',
  },
  {
    ...amount('grains_imputed', 'imputedGrains', 'grains as CaCO3', 0),
    about: 'hardness removed of imputed water, grains as CaCO3',
    how: 'as of metered water',
    group: 'imputed',
    sql: 'sum_grains_imputed',
  },
  ...estimate('grainsPerLb', ['grains_per_lb', ''], {
    ...{ unit: 'grains per lb', decimals: 1, about: 'hardness removed for each lb of salt, grains as CaCO3' },
    how: 'all grains over all salt; empty without salt',
    unsure: SALT_UNSURE,
    sql: `case when ${SALT} > 0 then ${GRAINS} / ${SALT} end`,
    isNullable: true,
  }),
];

const DISCHARGE: readonly AccountColumn[] = [
  ...estimate('chlorideLb', ['chloride', 'lb'], {
    ...{ unit: 'lb', decimals: 2, about: 'chloride to the drain, lb' },
    how: `${chlorideLb(1).toFixed(5)} of the salt used, taken for NaCl: by molar masses`,
    unsure: SALT_UNSURE,
    sql: `${factor(chlorideLb(1))} * ${POSITIVE_SALT}`,
  }),
  ...estimate('sodiumLb', ['sodium', 'lb'], {
    ...{ unit: 'lb', decimals: 2, about: 'sodium of the salt used, lb, wherever it went' },
    how: `${SODIUM_MASS_FRACTION.toFixed(5)} of the salt used, taken for NaCl: by molar masses`,
    unsure: SALT_UNSURE,
    sql: `${factor(SODIUM_MASS_FRACTION)} * ${POSITIVE_SALT}`,
  }),
  {
    ...amount('sodium_in_water_lb', 'sodiumInWaterLb', 'lb', 2),
    about: 'of that, sodium that left with the softened water instead of the brine, lb',
    how: 'an equivalent for each equivalent of hardness removed, of metered and imputed water: by molar masses',
    sql: `${factor(SODIUM_LB_PER_GRAIN)} * ${GRAINS}`,
  },
];

const HARD_WATER: readonly AccountColumn[] = [
  {
    ...amount('hard_water_gal', 'hardGallons', 'US gal', 1),
    about: 'water that came through hard, since the bed had run out, US gallons',
    how: 'metered water beyond the bed’s true capacity by the ledger',
    group: 'hard-water',
    sql: 'sum_hard_water_gal',
  },
  count('hard_water_days', 'hardDays', 'unit-days on which some water came through hard', {
    unit: 'unit-days',
    how: 'by the same ledger',
    group: 'hard-water',
    sql: 'sum_hard_water_days',
  }),
];

const EFFICIENCY: readonly AccountColumn[] = [
  ...efficiency(
    'asSet',
    'as_set',
    'as-set',
    'by what dose and water of a regeneration give, whole bed for whole dose',
  ),
  ...efficiency('inUse', 'in_use', 'in-use', 'by grains, salt and water of the last 12 months'),
];

/** By what salt is booked under each cause. */
const BOOKED_BY: Readonly<Record<WasteCause, string>> = {
  leak: 'hardness of that water beyond what the household was expected to use, by the dose',
  manual: 'capacity left beyond the reserve, by the dose',
  'calendar-limit': 'capacity left beyond the reserve, by the dose',
  repeated: 'capacity that the count still had, by the dose',
  'capacity-too-low': 'the bed’s capacity less what the control makes of it, by the dose',
  'hardness-too-high': 'the bed’s capacity less what the control makes of it, by the dose',
  reserve: 'capacity that was left and has no other cause, by the dose',
  dose: 'the dose less what its hardness takes at that figure',
};

const WASTED: readonly AccountColumn[] = WASTE_CAUSES.map((cause) => ({
  ...amount(wastedName(cause), 'wastedLb', 'lb', 2),
  about: `salt that was not needed, lb. ${wasteInFull(cause)}`,
  how: BOOKED_BY[cause],
  group: `wasted-${cause}` as const,
  sql: `drawn_share * sum_${wastedName(cause)}`,
  of: ({ wastedLb }) => wastedLb[cause],
}));

/**
 * The columns of the salt accounts that leave the system, in their order. CSV, Parquet, the API, the data dictionary and
 * the view `region_accounts` are made of them.
 */
export const SALT_ACCOUNT_COLUMNS: readonly AccountColumn[] = [
  ...KEYS,
  ...COUNTS,
  ...WATER,
  ...SALT_COLUMNS,
  ...REGENERATION_WATER,
  ...HARDNESS,
  ...DISCHARGE,
  ...HARD_WATER,
  ...EFFICIENCY,
  ...WASTED,
];

/** The column of the salt wasted by a cause, of units and of regions. */
export function wastedName(cause: WasteCause): string {
  return `salt_wasted_${cause.replaceAll('-', '_')}_lb`;
}
