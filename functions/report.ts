import { accountFile } from '../lib/archive/accountRows.ts';
import type { ArchiveFiles } from '../lib/archive/files.ts';
import { folderOf, tableFolder } from '../lib/archive/partition.ts';
import type { KnownMonths } from '../lib/salt/knownMonths.ts';
import { RegionAccounts } from '../lib/salt/regionAccounts.ts';
import { saltCsv } from '../lib/salt/saltCsv.ts';
import { unitMonths } from '../lib/salt/unitMonths.ts';
import type { Instant } from '../shared/time/instant.ts';
import { knownMonths } from './companySalt.ts';
import { groupBy } from './groupBy.ts';
import type { Ports } from './ports.ts';

/**
 * The function `report`: writes of every company salt.csv, and the month accounts of its units as Parquet. A company
 * whose report fails holds up no other; then it throws at the end, so that the run counts as failed and is tried again.
 */
export function report({ store, now, log }: Pick<Ports, 'store' | 'now' | 'log'>, files: ArchiveFiles) {
  return async (): Promise<void> => {
    const failures: unknown[] = [];
    for (const { companyId } of await store.companies()) {
      try {
        const until = now();
        const known: KnownMonths[] = [];
        for await (const page of knownMonths(store, companyId, until)) known.push(...page);
        await reportCompany(files, companyId, known, until);
      } catch (error) {
        log.error('a report failed', { companyId, error: String(error) });
        failures.push(error);
      }
    }
    if (failures.length > 0) throw new AggregateError(failures, `${failures.length} reports failed`);
  };
}

async function reportCompany(
  files: ArchiveFiles,
  companyId: string,
  known: readonly KnownMonths[],
  until: Instant,
): Promise<void> {
  const accounts = new RegionAccounts(until);
  for (const { unit, months, firstDate } of known) accounts.add(unit, months, firstDate);
  const rows = accounts.rows();
  await files.put(`reports/${companyId}/salt.csv`, saltCsv(rows));
  const units = groupBy(
    known.flatMap((each) => unitMonths(each, until)),
    ({ region, month }) => `${region} ${month}`,
  );
  const written = new Set<string>();
  for (const row of rows) {
    const path = `${folderOf('accounts', { companyId, ...row })}units.parquet`;
    await files.put(path, accountFile(units.get(`${row.region} ${row.month}`) ?? [], until));
    written.add(path);
  }
  // Of a region that nobody is in any more, and of months that late facts have shown to be none.
  const all = await files.list(tableFolder('accounts', companyId));
  await files.drop(all.filter((path) => !written.has(path)));
}
