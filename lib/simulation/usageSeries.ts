import { parse } from 'csv-parse/sync';
import { type LocalDate, parseLocalDate, weekdayOf } from '../../shared/time/localDate.ts';
import { LITRES_PER_GALLON } from '../../shared/units.ts';
import type { Chance } from './chance.ts';
import { SimulationError } from './errors.ts';
import { runsOf, type WaterUse } from './waterUse.ts';

/** The daily use of a real home, from the first to the last day of its record; undefined where a day is missing. */
export interface UsageSeries {
  readonly meterId: string;
  readonly firstDate: LocalDate;
  readonly gallons: readonly (number | undefined)[];
}

/** A shorter record says too little of a home. */
export const SHORTEST_SERIES_DAYS = 90;

/**
 * Reads a CSV of daily use with a header that names at least `meter_id`, `date` (YYYY-MM-DD) and `litres` or
 * `gallons`; other columns and rows without a volume are passed over, and so are homes of fewer than 90 days.
 *
 * @throws SimulationError `usage-unreadable` where the text is not such a file
 */
export function readUsage(text: string): UsageSeries[] {
  const byMeter = new Map<string, Map<LocalDate, number>>();
  rowsOf(text).forEach((row, index) => {
    const { meter_id: meterId, date: dateText, litres, gallons } = row;
    const volume = litres ?? gallons;
    if (meterId === undefined || dateText === undefined || volume === undefined) {
      throw unreadable('its header does not name meter_id, date and litres or gallons');
    }
    if (volume === '') return;
    const date = parseLocalDate(dateText);
    const value = Number(volume) / (litres === undefined ? 1 : LITRES_PER_GALLON);
    if (date === undefined || !(value >= 0 && value < Infinity)) {
      throw unreadable(`row ${index + 2} has no date that exists or no volume of 0 or more`);
    }
    const days = byMeter.get(meterId) ?? new Map<LocalDate, number>();
    byMeter.set(meterId, days.set(date, value));
  });
  return [...byMeter]
    .map(([meterId, days]) => seriesOf(meterId, days))
    .filter(({ gallons }) => gallons.filter((each) => each !== undefined).length >= SHORTEST_SERIES_DAYS);
}

/**
 * Lets a home of record live through the days of a simulation, from a chance day of its record on and round again,
 * each day on a weekday like its own. Water flows on missing days too, as much as is typical of the home, but no flow
 * day tells of it. Days of zero are absences.
 */
export function liveAgain(series: UsageSeries, start: LocalDate, days: number, chance: Chance): WaterUse {
  const weeks = Math.floor(series.gallons.length / 7);
  const toSameWeekday = (weekdayOf(start) - weekdayOf(series.firstDate) + 7) % 7;
  const offset = toSameWeekday + 7 * chance.whole(0, weeks - 1);
  const read = (day: number) => series.gallons[(offset + day) % (weeks * 7)];
  const known = series.gallons.filter((each) => each !== undefined);
  const typical = known.reduce((sum, each) => sum + each, 0) / known.length;
  const record = Array.from({ length: days }, (_, day) => read(day));
  return {
    gallons: record.map((each) => each ?? typical),
    unreported: new Set(record.flatMap((each, day) => (each === undefined ? [day] : []))),
    absences: runsOf(record.map((each) => each === 0)),
  };
}

function rowsOf(text: string): Partial<Record<string, string>>[] {
  try {
    return parse(text, { columns: true, bom: true, skip_empty_lines: true, trim: true });
  } catch (error) {
    throw unreadable(error instanceof Error ? error.message : String(error));
  }
}

function seriesOf(meterId: string, days: ReadonlyMap<LocalDate, number>): UsageSeries {
  let firstDate = Infinity;
  let lastDate = -Infinity;
  for (const date of days.keys()) {
    firstDate = Math.min(firstDate, date);
    lastDate = Math.max(lastDate, date);
  }
  const gallons = Array.from({ length: lastDate - firstDate + 1 }, (_, day) => days.get(firstDate + day));
  return { meterId, firstDate, gallons };
}

function unreadable(why: string): SimulationError {
  return new SimulationError(
    'usage-unreadable',
    `no CSV of daily water use: ${why}`,
    'Give a CSV whose header names meter_id, date and litres or gallons, one row a meter and day.',
  );
}
