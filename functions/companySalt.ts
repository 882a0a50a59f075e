import type { KnownMonths } from '../lib/salt/knownMonths.ts';
import { isKept, type MonthAccount } from '../lib/salt/monthAccount.ts';
import { type RegionMonth, RegionMonths } from '../lib/salt/regionMonths.ts';
import { saltCsv } from '../lib/salt/saltCsv.ts';
import { tenureAt } from '../lib/salt/tenure.ts';
import type { Store, StoredHead } from '../lib/store/store.ts';
import { accountsUntil } from '../lib/unit/accountsUntil.ts';
import type { Unit } from '../shared/registry.ts';
import type { Instant } from '../shared/time/instant.ts';
import { toUnit } from '../shared/toUnit.ts';
import { atOnce } from './atOnce.ts';
import { recordPages } from './everything.ts';

/** The rows of salt.csv of a company, as a replay of its events until `until` writes them. */
export async function companySaltRows(
  store: Store,
  companyId: string,
  until: Instant,
): Promise<RegionMonth[]> {
  const accounts = new RegionMonths(until);
  for await (const page of knownMonths(store, companyId, until)) {
    for (const { unit, months, firstDate, owesUntil } of page)
      accounts.add(unit, months, firstDate, owesUntil);
  }
  return accounts.rows();
}

/** salt.csv of a company. */
export async function companySalt(store: Store, companyId: string, until: Instant): Promise<string> {
  return saltCsv(await companySaltRows(store, companyId, until));
}

/** What is known of the months of a company's units until an instant, a page of its registry at a time. */
export async function* knownMonths(
  store: Store,
  companyId: string,
  until: Instant,
): AsyncGenerator<readonly KnownMonths[]> {
  for await (const records of recordPages(store, companyId)) {
    yield await atOnce(16, records, async (record) => {
      const [{ stored }, closed] = await Promise.all([
        store.unit(record, { fresh: false }),
        store.months(record),
      ]);
      const firstDate = stored?.head.firstDate ?? undefined;
      const unit = toUnit(record);
      const owesUntil = stored?.head.outOfService?.at;
      return { unit, months: monthsOf(unit, closed, stored, until), firstDate, owesUntil };
    });
  }
}

/** The accounts of a unit, each once: the head knows better than what has been written out of it before. */
export function monthsOf(
  unit: Unit,
  closed: readonly MonthAccount[],
  stored: StoredHead | undefined,
  until: Instant,
): MonthAccount[] {
  if (!stored) return [];
  const { head, outbox } = stored;
  const lost = new Set(outbox?.lostMonths);
  const end = Math.min(until, head.outOfService?.at ?? until);
  const known = [...closed, ...(outbox?.months ?? []), ...accountsUntil(unit, head.state, end)];
  // A record that says otherwise now where the unit is counted holds at once, before its facts are folded anew.
  return [...new Map(known.map((account) => [account.from, account])).values()]
    .filter((account) => isKept(account) && !lost.has(account.from))
    .sort((a, b) => a.from - b.from)
    .map((account) => ({ ...account, region: tenureAt(unit, account.from).region }));
}
