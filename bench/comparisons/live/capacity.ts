import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openTable } from '../../../infra/local/table.ts';
import { allOf, measureUnitDay } from '../../scale/unitDay.ts';

/** Days over which capacity is counted each time. */
const WINDOW_DAYS = 30;
/** Share of the units that have a fault some day. */
const FAULTS = 0.1;
const DAY_MS = 86_400_000;

/** What a unit-day took of the table after some days of history, in capacity units. */
export interface Counted {
  readonly after: number;
  readonly write: number;
  readonly read: number;
}

/** Counts what the table is asked for early, in the middle and late in the histories of some units. */
export async function unitDayAsItGrows(units: number, days: number): Promise<readonly Counted[]> {
  const folder = await mkdtemp(join(tmpdir(), 'brinebell-capacity-'));
  const table = await openTable({
    ...{ folder, env: {}, onCapacity: () => {} },
    onFailure: (error) => setImmediate(() => Promise.reject(error)),
  });
  try {
    const last = days - WINDOW_DAYS - 1;
    const measured = await measureUnitDay({
      ...{ table, units, windowDays: WINDOW_DAYS, faults: FAULTS, warm: true },
      start: Math.floor(Date.now() / DAY_MS) - days - 2,
      after: [WINDOW_DAYS, Math.floor((WINDOW_DAYS + last) / 2), last],
    });
    return measured.map(({ after, units: ofUnit }) => {
      const { write, read } = allOf(ofUnit);
      return { after, write, read };
    });
  } finally {
    await table.close();
    await rm(folder, { recursive: true });
  }
}
