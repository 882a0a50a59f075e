import { formatLocalDate, type LocalDate } from '../../shared/time/localDate.ts';
import { monthOf } from '../../shared/time/month.ts';
import { type MonthAccount, newMonth } from '../salt/monthAccount.ts';
import type { Access } from './access.ts';
import { unlessConflict } from './failures.ts';
import { PREFIX, unitKey, unitPartition } from './keys.ts';
import { notNewer } from './notNewer.ts';
import type { Store } from './store.ts';

/** Salt accounts of the months of a unit that are over. */
export function monthItems(access: Access): Pick<Store, 'putMonth' | 'dropMonth' | 'months'> {
  return {
    async putMonth(unit, version, account) {
      const key = unitKey(unit, `${PREFIX.month}${monthKey(account.from)}`);
      const item = { ...key, v: version, json: JSON.stringify(account) };
      await unlessConflict(access.put('putMonth', item, notNewer(version)));
    },
    async dropMonth(unit, version, from) {
      // As with alerts, a write that was delayed does not bring it back.
      const key = unitKey(unit, `${PREFIX.month}${monthKey(from)}`);
      await unlessConflict(access.update('dropMonth', key, { json: null, v: version }, notNewer(version)));
    },
    async months(unit, { fresh } = { fresh: false }) {
      const range = { partition: unitPartition(unit), prefix: PREFIX.month, fresh };
      const items = await access.all('months', range);
      return items.flatMap(({ json }) => (json === undefined ? [] : accountOf(JSON.parse(json))));
    },
  };
}

/** By its month; where it begins later, in a region that the unit came to, by its first day. */
function monthKey(from: LocalDate): string {
  const [month, first] = [monthOf(from), formatLocalDate(from)];
  return first === `${month}-01` ? month : first;
}

/** An account as it is today; one of before has not all members, and is written again when its unit is folded anew. */
function accountOf(stored: MonthAccount): MonthAccount {
  return { ...newMonth(stored.from, { region: stored.region ?? '', formerRegions: [] }), ...stored };
}
