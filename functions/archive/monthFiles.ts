import {
  accountFile,
  type FiledMonth,
  filedMonths,
  identityOfMonths,
} from '../../lib/archive/accountRows.ts';
import { folderOf } from '../../lib/archive/partition.ts';
import type { UnitMonth } from '../../lib/salt/unitMonths.ts';
import type { Instant } from '../../shared/time/instant.ts';
import { atOnce } from '../atOnce.ts';
import { groupBy } from '../groupBy.ts';
import { digestOf } from './digest.ts';
import type { StandingFiles } from './standingFiles.ts';

/** Units of a stretch, on the average: enough that files are not many, few enough to hold. */
const UNITS_A_STRETCH = 2_048;
/** Files that are written at a time. */
const FILES_AT_ONCE = 8;
/** A stretch ends at so many rows, whatever units come: some 100 MB at the most. */
const MOST_ROWS = 100_000;

export interface MonthFilesOptions {
  readonly companyId: string;
  readonly asOf: Instant;
  /** A power of 2. */
  readonly unitsAStretch?: number;
  readonly mostRows?: number;
}

/**
 * Files of the month accounts of a company's units, a stretch of its registry at a time. Of a stretch there is one for each
 * region and month. Where a stretch ends hangs on the id of the unit it ends with, so that a unit that comes or goes moves
 * no other stretch, and files of months in which nothing has changed are the same again.
 */
export class MonthFiles {
  readonly #files: StandingFiles;
  readonly #options: Required<MonthFilesOptions>;
  #rows: FiledMonth[] = [];

  constructor(files: StandingFiles, options: MonthFilesOptions) {
    this.#files = files;
    this.#options = { unitsAStretch: UNITS_A_STRETCH, mostRows: MOST_ROWS, ...options };
  }

  /** Adds a unit; they come in the order of the registry. */
  async add(months: readonly UnitMonth[]): Promise<void> {
    for (const row of filedMonths(months)) this.#rows.push(row);
    const { unitsAStretch, mostRows } = this.#options;
    const [first] = months;
    const isLast = first !== undefined && numberOf(first.unitId) % unitsAStretch === 0;
    if (isLast || this.#rows.length >= mostRows) await this.end();
  }

  /** Writes what has come since the last stretch ended. */
  async end(): Promise<void> {
    const { companyId, asOf } = this.#options;
    const groups = groupBy(this.#rows, ({ region, month }) => `${region} ${month}`);
    this.#rows = [];
    await atOnce(FILES_AT_ONCE, [...groups.values()], async (rows) => {
      const [first] = rows;
      if (!first) return;
      const { region, month } = first;
      const folder = folderOf('accounts', { companyId, region, month });
      await this.#files.stand(`${folder}${digestOf(identityOfMonths(rows))}.parquet`, () =>
        accountFile(rows, asOf),
      );
    });
  }
}

function numberOf(unitId: string): number {
  return Number.parseInt(digestOf([unitId]).slice(0, 8), 16);
}
