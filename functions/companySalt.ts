import type { MonthAccount } from '../lib/salt/monthAccount.ts';
import { RegionAccounts, type RegionMonth } from '../lib/salt/regionAccounts.ts';
import { saltCsv } from '../lib/salt/saltCsv.ts';
import type { Store, StoredHead } from '../lib/store/store.ts';
import { toUnit } from '../shared/registry.ts';
import type { Instant } from '../shared/time/instant.ts';
import { atOnce } from './atOnce.ts';
import { recordPages } from './everything.ts';

/** salt.csv of a company, as a replay of its events until `until` writes it. */
export async function companySalt(store: Store, companyId: string, until: Instant): Promise<string> {
  return saltCsv(await companySaltRows(store, companyId, until));
}

/** Its rows. */
export async function companySaltRows(
  store: Store,
  companyId: string,
  until: Instant,
): Promise<RegionMonth[]> {
  const accounts = new RegionAccounts(until);
  for await (const records of recordPages(store, companyId)) {
    const known = await atOnce(16, records, async (record) => {
      const [{ stored }, closed] = await Promise.all([
        store.unit(record, { fresh: false }),
        store.months(record),
      ]);
      return { unit: toUnit(record), months: monthsOf(closed, stored), firstDate: stored?.head.firstDate };
    });
    for (const { unit, months, firstDate } of known) accounts.add(unit, months, firstDate ?? undefined);
  }
  return accounts.rows();
}

/** The months of a unit, each once: the head knows better than what has been written out of it before. */
function monthsOf(closed: readonly MonthAccount[], stored: StoredHead | undefined): MonthAccount[] {
  if (!stored) return [];
  const known = [...closed, ...(stored.outbox?.months ?? []), stored.head.state.month];
  return [...new Map(known.map((account) => [account.month, account])).values()].filter(
    ({ daysCounted, regenerations }) => daysCounted > 0 || regenerations > 0,
  );
}
