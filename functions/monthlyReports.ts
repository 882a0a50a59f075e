import type { ArchiveFiles } from '../lib/archive/files.ts';
import { cellsOf } from '../lib/salt/account/accountsFile.ts';
import type { ToldAccount } from '../lib/salt/account/companyAccounts.ts';
import { METHOD } from '../lib/salt/account/method.ts';
import type { SaltAccount } from '../lib/salt/account/saltAccount.ts';
import { yearUpTo } from '../lib/salt/report/months.ts';
import type { Company } from '../lib/store/company.ts';
import type { Instant } from '../shared/time/instant.ts';
import { isLatest, isRunning } from '../shared/time/month.ts';
import { digestOf } from './archive/digest.ts';
import { reportPaths } from './reportPaths.ts';

/** How long a name tells one version of a report from the next. */
const VERSION_LENGTH = 8;

/**
 * Writes the reports of the last month that is over, of every region of a company, as HTML and PDF. Each account has its
 * own version in the name: one that later facts restate is written beside what was handed out before, and what stands
 * already is not made again. Returns how many were written.
 */
export async function monthlyReports(
  files: ArchiveFiles,
  { companyId, name }: Pick<Company, 'companyId' | 'name'>,
  accounts: readonly ToldAccount[],
  { until, leastUnits }: { until: Instant; leastUnits: number },
): Promise<number> {
  const due = accounts.filter(({ account: { month } }) => isLatest(month, until) && !isRunning(month, until));
  if (due.length === 0) return 0;
  const there = new Set(await files.list(reportPaths.regions(companyId)));
  let written = 0;
  for (const { account } of due) {
    const { region, month } = account;
    const version = versionOf(accounts, account);
    const path = (form: string) => reportPaths.region(companyId, region, `${month}-${version}.${form}`);
    if (there.has(path('pdf'))) continue;
    // Only now: it takes fonts and all that draws, on the one night of a month on which there is something to write.
    const { reportFiles } = await import('../lib/salt/report/reportFiles.ts');
    const { html, pdf } = await reportFiles(
      {
        ...{ company: name || companyId, region, month, accounts, method: METHOD },
        ...{ isShared: false, leastUnits, system: 'us' },
      },
      'letter',
    );
    await files.put(path('html'), html);
    // Last, since by it one sees that both are there.
    await files.put(path('pdf'), pdf);
    written += 1;
  }
  return written;
}

/** Another where anything that a report tells is: of the month and the twelve before. */
function versionOf(accounts: readonly ToldAccount[], { region, month }: SaltAccount): string {
  const year = new Set(yearUpTo(month));
  const told = accounts
    .filter(({ account }) => account.region === region && year.has(account.month))
    .map(({ account }) => {
      const { as_of: _, ...cells } = cellsOf(account);
      return JSON.stringify(cells);
    });
  return digestOf(told).slice(0, VERSION_LENGTH);
}
