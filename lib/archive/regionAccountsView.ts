import { SALT_ACCOUNT_COLUMNS } from '../salt/account/columns.ts';
import type { NamedColumn } from '../table/column.ts';
import { ACCOUNT_COLUMNS } from './accountColumns.ts';
import { ESTIMATE_COLUMNS } from './estimateColumns.ts';
import { first, namesOf, type SqlView } from './sqlView.ts';
import { PARTITION_COLUMNS, TABLES } from './tables.ts';

const COMPANY: readonly NamedColumn[] = PARTITION_COLUMNS.filter(({ name }) => name === 'company');
const KEY = namesOf(PARTITION_COLUMNS);

/** Units that are counted. */
const COUNTED = {
  units: 'sum(1)',
  units_reporting: 'sum(case when days_counted > 0 then 1 else 0 end)',
  units_measured: 'sum(case when salt_measured_dose_lb > 0 then 1 else 0 end)',
} as const;

/**
 * The accounts of regions as they are exported, added up from those of units. What is not a sum stands in `estimates`.
 *
 * @param unitMonths the view of the accounts of units
 */
export function regionAccounts(unitMonths: SqlView): SqlView {
  const asked = SALT_ACCOUNT_COLUMNS.map(({ sql }) => sql ?? '').join(' ');
  const sums = [
    ...Object.entries(COUNTED),
    // A column that files of before do not have yet is 0 in them.
    ...ACCOUNT_COLUMNS.map(({ name }): [string, string] => [name, `sum(coalesce(${name}, 0))`]),
  ].filter(([name]) => new RegExp(`\\bsum_${name}\\b`).test(asked));
  const columns = SALT_ACCOUNT_COLUMNS.filter(({ name }) => !KEY.split(', ').includes(name));
  const estimates = [...PARTITION_COLUMNS, ...ESTIMATE_COLUMNS];
  return {
    name: 'region_accounts',
    about:
      'salt accounts by region: measured, inferred and imputed, with intervals; as /v1/accounts has them',
    columns: [...COMPANY, ...SALT_ACCOUNT_COLUMNS],
    sql: `select ${KEY},
  ${columns.map(({ name, sql }) => (sql === undefined ? name : `${sql} as ${name}`)).join(',\n  ')}
from (
  select ${PARTITION_COLUMNS.map(({ name }) => `sums.${name}`).join(', ')},
    ${sums.map(([name]) => `sum_${name}`).join(', ')},
    ${namesOf(ESTIMATE_COLUMNS)}
  from (
    select ${KEY},
      ${sums.map(([name, sum]) => `${sum} as sum_${name}`).join(',\n      ')}
    from ${unitMonths.name}
    group by ${KEY}
  ) sums
  left join (
${first(estimates, TABLES.estimates.name, `partition by ${KEY} order by as_of desc`)}
  ) estimates on ${PARTITION_COLUMNS.map(({ name }) => `estimates.${name} = sums.${name}`).join(' and ')}
) joined`,
  };
}
