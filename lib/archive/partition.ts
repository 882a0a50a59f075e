import { isId } from '../../shared/idForm.ts';
import { type LocalDate, localDateOf } from '../../shared/time/localDate.ts';
import { isMonth, monthOf } from '../../shared/time/month.ts';
import { ArchiveError } from './errors.ts';

/** The tables of the archive, by the folder that each is in. */
export type ArchiveTable = 'facts' | 'accounts' | 'estimates';

/** Where rows lie that are mostly asked for together. */
export interface Partition {
  readonly companyId: string;
  /** The region of the unit's record when the row was written. */
  readonly region: string;
  /** `YYYY-MM`, of the site's zone. */
  readonly month: string;
}

/** The columns that a file's path gives, in its order. */
export const PARTITION_NAMES: readonly string[] = ['company', 'region', 'month'];

const TABLES: readonly string[] = ['facts', 'accounts', 'estimates'] satisfies ArchiveTable[];
const PATH = /^([a-z]+)\/company=([^/=]+)\/region=([^/=]+)\/month=([^/=]+)\/[^/]+$/;
const FIRST = localDateOf(0, 1, 1) ?? 0;
const LAST = localDateOf(9999, 12, 31) ?? 0;

/**
 * The folder of a partition, as Hive names them, with `/` at its end.
 *
 * @throws ArchiveError if an id is none, which might lead out of the archive, or the month is none
 */
export function folderOf(table: ArchiveTable, partition: Partition): string {
  if (!isPartition(partition)) {
    throw new ArchiveError(
      'partition-impossible',
      `${JSON.stringify(partition)} is no partition: ids are ids, and a month is YYYY-MM`,
    );
  }
  const { companyId, region, month } = partition;
  return `${tableFolder(table, companyId)}region=${region}/month=${month}/`;
}

/** The folder of all that is kept of a company in a table. */
export function tableFolder(table: ArchiveTable, companyId: string): string {
  return `${table}/company=${companyId}/`;
}

/** The table and partition that a file lies in; undefined of any path that {@link folderOf} does not lead to. */
export function partitionOf(path: string): { table: ArchiveTable; partition: Partition } | undefined {
  const [, table, companyId, region, month] = PATH.exec(path) ?? [];
  if (companyId === undefined || region === undefined || month === undefined) return undefined;
  const partition = { companyId, region, month };
  if (!isTable(table) || !isPartition(partition)) return undefined;
  return { table, partition };
}

/** The month that a local date is filed under. One of no year with four digits goes to the nearest that has. */
export function monthFiledUnder(date: LocalDate): string {
  return monthOf(filedDate(date));
}

/** A local date as it is filed: in the years 0 to 9999. */
export function filedDate(date: LocalDate): LocalDate {
  return Math.min(LAST, Math.max(FIRST, date));
}

function isTable(name: string | undefined): name is ArchiveTable {
  return name !== undefined && TABLES.includes(name);
}

function isPartition({ companyId, region, month }: Partition): boolean {
  return isId(companyId) && isId(region) && isMonth(month);
}
