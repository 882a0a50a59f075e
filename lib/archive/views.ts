import { chlorideLb } from '../softening/chloride.ts';
import { ACCOUNT_COLUMNS } from './accountColumns.ts';
import { COMMON_COLUMNS, FACT_COLUMNS } from './factColumns.ts';
import { KIND_COLUMNS } from './kindColumns.ts';
import { regionAccounts } from './regionAccountsView.ts';
import { first, namesOf, type SqlView } from './sqlView.ts';
import { PARTITION_COLUMNS, TABLES } from './tables.ts';

/** Which unit an event is of, and with its id which event it is. */
const UNIT = 'company, unit_id';

/** The columns of an event's envelope but its kind, which such a view is of. */
const OF_ONE_KIND = [...PARTITION_COLUMNS, ...COMMON_COLUMNS.filter(({ name }) => name !== 'kind')];

const facts: SqlView = {
  name: 'facts',
  about: 'accepted events, each id once: of copies that differ, the one that stands',
  columns: [...PARTITION_COLUMNS, ...FACT_COLUMNS],
  // Contract, section 1: the earliest recorded stands, then the least canonical JSON.
  sql: first(
    [...PARTITION_COLUMNS, ...FACT_COLUMNS],
    TABLES.facts.name,
    `partition by ${UNIT}, event_id order by recorded_at, content, region, event`,
  ),
};

const flowDayColumns = [...OF_ONE_KIND, ...KIND_COLUMNS['flow-day']];

const flowDays: SqlView = {
  name: 'flow_days',
  about: 'treated water by unit and local day: of corrections the one that stands',
  columns: flowDayColumns,
  // Contract, section 1: of two of one date the one with the later time stands, then the greater id.
  sql: first(
    flowDayColumns,
    `${facts.name} where kind = 'flow-day'`,
    `partition by ${UNIT}, local_date order by happened_at desc, event_id desc`,
  ),
};

/** The regions of a unit’s month; files of before do not say it, and then it is one. */
const REGIONS = 'coalesce(region_ids, region)';

const unitMonthColumns = [...PARTITION_COLUMNS, ...ACCOUNT_COLUMNS];

const unitMonths: SqlView = {
  name: 'unit_months',
  about: 'month accounts by unit: water, salt, regenerations, days that are missing',
  columns: unitMonthColumns,
  // For a moment old files stand beside those that replace them: of one region the later row stands, and a unit that is
  // no longer counted in a region has none there. One that moved within the month has one in each.
  sql: `select ${namesOf(unitMonthColumns)}
from (
  select ${namesOf(unitMonthColumns)},
    row_number() over (partition by ${UNIT}, month, region order by as_of desc) as place,
    first_value(${REGIONS}) over (partition by ${UNIT}, month order by as_of desc, region) as standing_regions
  from ${TABLES.accounts.name}
) placed
where place = 1 and ${REGIONS} = standing_regions`,
};

/** Chloride in a pound of salt, lb; with an exponent, or it were a decimal. */
const CHLORIDE_SHARE = chlorideLb(1).toExponential();

const regionMonths: SqlView = {
  name: 'region_months',
  about:
    'month accounts by region, as salt.csv has them: with no estimate of missing days, which region_accounts has',
  columns: [
    ...PARTITION_COLUMNS,
    { name: 'units_reporting', type: 'count', about: 'units with at least one flow day' },
    { name: 'unit_days', type: 'count', about: 'flow days' },
    { name: 'unit_days_missing', type: 'count', about: 'flow days that were owed and never came' },
    { name: 'regenerations', type: 'count', about: 'regenerations' },
    { name: 'water_treated_gal', type: 'double', about: 'treated water, US gallons' },
    { name: 'salt_used_lb', type: 'double', about: 'salt used, lb' },
    { name: 'salt_measured_share', type: 'double', about: 'share of it that was measured, 0 to 1' },
    { name: 'salt_inferred_share', type: 'double', about: 'share of it that was inferred, 0 to 1' },
    { name: 'regeneration_water_gal', type: 'double', about: 'water of regenerations, US gallons' },
    { name: 'grains_removed', type: 'double', about: 'hardness removed, grains as CaCO3' },
    { name: 'grains_per_lb', type: 'double', about: 'grains removed for each lb of salt' },
    { name: 'chloride_lb', type: 'double', about: 'chloride to the drain, lb' },
  ],
  sql: `select company, region, month,
  cast(units_reporting as bigint) as units_reporting,
  cast(unit_days as bigint) as unit_days,
  cast(greatest(days_expected - unit_days, 0) as bigint) as unit_days_missing,
  cast(regenerations as bigint) as regenerations,
  water_treated_gal,
  measured_lb + inferred_lb as salt_used_lb,
  case when measured_lb + inferred_lb > 0 then measured_lb / (measured_lb + inferred_lb) end as salt_measured_share,
  case when measured_lb + inferred_lb > 0 then inferred_lb / (measured_lb + inferred_lb) end as salt_inferred_share,
  regeneration_water_gal,
  grains_removed,
  case when measured_lb + inferred_lb > 0 then grains_removed / (measured_lb + inferred_lb) end as grains_per_lb,
  case when measured_lb + inferred_lb > 0 then ${CHLORIDE_SHARE} * (measured_lb + inferred_lb)
    else 0e0 end as chloride_lb
from (
  select company, region, month,
    sum(case when days_counted > 0 then 1 else 0 end) as units_reporting,
    sum(days_counted) as unit_days,
    sum(days_expected) as days_expected,
    sum(regenerations) as regenerations,
    sum(water_treated_gal) as water_treated_gal,
    sum(salt_measured_lb) as measured_lb,
    sum(salt_inferred_lb) as inferred_lb,
    sum(regeneration_water_gal) as regeneration_water_gal,
    sum(grains_removed) as grains_removed
  from ${unitMonths.name}
  group by company, region, month
) sums`,
};

/** The views, each after those that it is made of. */
export const VIEWS: readonly SqlView[] = [
  facts,
  flowDays,
  ofKind('regenerations', 'regeneration', 'regenerations, from their start'),
  ofKind('settings', 'settings', 'what was programmed on controls, each time that it was told'),
  ofKind('salt_levels', 'salt-level', 'readings of the salt in tanks'),
  ofKind('visits', 'service-visit', 'visits of technicians'),
  unitMonths,
  regionMonths,
  regionAccounts(unitMonths),
];

function ofKind(name: string, kind: keyof typeof KIND_COLUMNS, about: string): SqlView {
  const columns = [...OF_ONE_KIND, ...KIND_COLUMNS[kind]];
  return {
    name,
    about,
    columns,
    sql: `select ${namesOf(columns)}\nfrom ${facts.name}\nwhere kind = '${kind}'`,
  };
}
