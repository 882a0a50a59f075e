import { readFileSync } from 'node:fs';
import { type LocalDate, parseLocalDate } from '../../shared/time/localDate.ts';
import { LITRES_PER_GALLON } from '../../shared/units.ts';

/** One home's reported days, in order. */
export type Home = { date: LocalDate; gallons: number }[];

/** The homes of the open data with at least `days` reported days: see fixtures/README.md. */
export function realHomes(days: number): Home[] {
  const homes = new Map<string, Home>();
  for (const file of ['daiad-alicante', 'ampds2-house']) {
    const [, ...rows] = readFileSync(`fixtures/${file}/daily.csv`, 'utf8').trim().split('\n');
    for (const row of rows) {
      const [meter = '', date = '', litres] = row.split(',');
      const home = homes.get(meter) ?? [];
      homes.set(meter, home);
      home.push({ date: parseLocalDate(date) ?? 0, gallons: Number(litres) / LITRES_PER_GALLON });
    }
  }
  return [...homes.values()].filter((home) => home.length >= days);
}
