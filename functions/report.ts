import { estimateFile, identityOfEstimate } from '../lib/archive/estimateColumns.ts';
import type { ArchiveFiles } from '../lib/archive/files.ts';
import { folderOf, tableFolder } from '../lib/archive/partition.ts';
import { accountsCsv } from '../lib/salt/account/accountsCsv.ts';
import type { AccountsFile } from '../lib/salt/account/accountsFile.ts';
import { accountsParquet } from '../lib/salt/account/accountsParquet.ts';
import { CompanyAccounts } from '../lib/salt/account/companyAccounts.ts';
import { dictionaryCsv } from '../lib/salt/account/dictionary.ts';
import { sharedCells } from '../lib/salt/account/shared.ts';
import { RegionMonths } from '../lib/salt/regionMonths.ts';
import { saltCsv } from '../lib/salt/saltCsv.ts';
import type { Company } from '../lib/store/company.ts';
import { digestOf } from './archive/digest.ts';
import { MonthFiles } from './archive/monthFiles.ts';
import { StandingFiles } from './archive/standingFiles.ts';
import { knownMonths } from './companySalt.ts';
import { monthlyReports } from './monthlyReports.ts';
import type { Ports } from './ports.ts';
import { reportPaths } from './reportPaths.ts';
import { rulesOf } from './rulesOf.ts';

/**
 * The function `report`: writes of every company salt.csv, its salt accounts as JSON, CSV and Parquet with their dictionary,
 * the month accounts of its units for SQL, and the reports of its regions when a month is over. A company whose report fails holds up no other; then it throws at the end,
 * so that the run counts as failed and is tried again.
 */
export function report(ports: Pick<Ports, 'store' | 'now' | 'log'>, files: ArchiveFiles) {
  const { store, log } = ports;
  return async (): Promise<void> => {
    const failures: unknown[] = [];
    for (const company of await store.companies()) {
      try {
        await reportCompany(ports, files, company);
      } catch (error) {
        log.error('a report failed', { companyId: company.companyId, error: String(error) });
        failures.push(error);
      }
    }
    if (failures.length > 0) throw new AggregateError(failures, `${failures.length} reports failed`);
  };
}

/** Units are taken as they come, a page of the registry at a time; of each only its sums and its files' rows are held. */
async function reportCompany(
  { store, now, log }: Pick<Ports, 'store' | 'now' | 'log'>,
  files: ArchiveFiles,
  company: Company,
): Promise<void> {
  const { companyId } = company;
  const until = now();
  const { salt } = await rulesOf(company);
  const regions = new RegionMonths(until);
  const accounts = new CompanyAccounts(until, salt);
  const standing = await StandingFiles.in(files, tableFolder('accounts', companyId));
  const months = new MonthFiles(standing, { companyId, asOf: until });
  for await (const page of knownMonths(store, companyId, until)) {
    for (const known of page) {
      regions.add(known.unit, known.months, known.firstDate, known.owesUntil);
      await months.add(accounts.add(known));
    }
  }
  await months.end();
  await files.put(reportPaths.salt(companyId), saltCsv(regions.rows()));
  const told = accounts.told();
  const file = accounts.file(told);
  await putEstimates(files, companyId, file);
  log.info('the month accounts of a company stand', { companyId, ...(await standing.dropOthers()) });
  await putAccounts(files, companyId, file);
  const written = await monthlyReports(files, company, told, {
    until,
    leastUnits: salt.leastUnitsTold,
  });
  if (written > 0) log.info('the monthly reports of regions are written', { companyId, written });
}

/** What SQL cannot add up; before old month accounts go, so that each region that has some has its estimates. */
async function putEstimates(files: ArchiveFiles, companyId: string, { items }: AccountsFile): Promise<void> {
  const standing = await StandingFiles.in(files, tableFolder('estimates', companyId));
  for (const cells of items) {
    const folder = folderOf('estimates', {
      companyId,
      region: String(cells.region),
      month: String(cells.month),
    });
    await standing.stand(`${folder}${digestOf([identityOfEstimate(cells)])}.parquet`, () =>
      estimateFile(cells),
    );
  }
  await standing.dropOthers();
}

/** The JSON last, by which the API goes. */
async function putAccounts(files: ArchiveFiles, companyId: string, file: AccountsFile): Promise<void> {
  await files.put(reportPaths.dictionary(companyId), dictionaryCsv());
  await files.put(reportPaths.accountsCsv(companyId), accountsCsv(file.items));
  await files.put(reportPaths.sharedCsv(companyId), accountsCsv(sharedCells(file), { isShared: true }));
  await files.put(reportPaths.accountsParquet(companyId), accountsParquet(file.items));
  await files.put(reportPaths.accounts(companyId), JSON.stringify(file));
}
