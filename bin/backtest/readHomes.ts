import type { HomeRecord } from '../../lib/demand/backtest/backtest.ts';
import { settle } from '../../lib/replay/standing.ts';
import { SimulationError } from '../../lib/simulation/errors.ts';
import { readUsage } from '../../lib/simulation/usageSeries.ts';
import { standingDays } from '../../lib/unit/history.ts';
import { CommandError } from '../errors.ts';
import { type Inputs, type ReadUnits, readUnits } from '../replay/readUnits.ts';
import { readText } from '../replay/source.ts';

/** Homes, and what reading the events found wrong. */
export interface ReadHomes {
  readonly homes: readonly HomeRecord[];
  readonly read?: ReadUnits;
}

/**
 * The flow days of every unit of a fleet, settled as a replay settles them.
 *
 * @throws CommandError where an input cannot be read
 */
export async function homesOfEvents(inputs: Inputs): Promise<ReadHomes> {
  const homes: HomeRecord[] = [];
  const read = await readUnits(inputs, undefined, ({ unitId }, received) => {
    const facts = settle(received).standing.map(({ fact }) => fact);
    const record = standingDays(facts).map(({ date, gallons }) => ({ date, gallons }));
    homes.push({ home: unitId, record });
  });
  return { homes, read };
}

/**
 * The homes of CSV files of daily use: meter_id, date and litres or gallons.
 *
 * @throws CommandError where one cannot be read
 */
export async function homesOfUsage(paths: readonly string[]): Promise<ReadHomes> {
  const files = await Promise.all(paths.map(homesOfFile));
  return { homes: files.flat() };
}

async function homesOfFile(path: string): Promise<HomeRecord[]> {
  const text = await readText(path);
  try {
    return readUsage(text).map(({ meterId, firstDate, gallons }) => ({
      home: meterId,
      record: gallons.flatMap((each, day) =>
        each === undefined ? [] : { date: firstDate + day, gallons: each },
      ),
    }));
  } catch (error) {
    if (!(error instanceof SimulationError)) throw error;
    throw new CommandError('input-unreadable', `${path}: ${error.message}`, error.advice);
  }
}
