import { useOf } from '../../lib/demand/backtest/usedDay.ts';
import { formatLocalDate, type LocalDate } from '../../shared/time/localDate.ts';
import type { Home } from '../../tests/support/homes.ts';

/** Reported days of a home before the first that is forecast. */
export const WARM_UP_DAYS = 60;
/** Days of the longer sum. */
export const SUM_DAYS = 5;

/** What is to be forecast: the use of the `days` days (1 or 5) from `date` on, from the home's days before. */
export interface Point {
  readonly home: number;
  readonly date: LocalDate;
  readonly days: number;
  /** What came, US gallons. */
  readonly gallons: number;
}

/** A point's name in the files that go to R and come back. */
export function keyOf(home: number, date: string, days: number): string {
  return `${home} ${date} ${days}`;
}

export function pointKey({ home, date, days }: Point): string {
  return keyOf(home, formatLocalDate(date), days);
}

/** The points of a home: each reported day after its warm-up, and five days where all of them are reported. */
export function pointsOf(days: Home, home: number): Point[] {
  return days.flatMap(({ date }, index) =>
    [1, SUM_DAYS].flatMap((span) => {
      const gallons = index < WARM_UP_DAYS ? undefined : useOf(days, index, span);
      return gallons === undefined ? [] : [{ home, date, days: span, gallons }];
    }),
  );
}

/** The homes as the scripts of R read them: see points.R. */
export function pointsCsv(homes: readonly Home[]): string {
  const lines = homes.flatMap((days, home) => {
    const points = new Set(pointsOf(days, home).map(pointKey));
    const used = new Map(days.map(({ date, gallons }) => [date, gallons]));
    const first = days[0]?.date ?? 0;
    const length = (days.at(-1)?.date ?? first) - first + 1;
    return Array.from({ length }, (_, index) => {
      const date = formatLocalDate(first + index);
      const flags = [1, SUM_DAYS].map((span) => (points.has(keyOf(home, date, span)) ? 1 : 0));
      return [home, date, used.get(first + index) ?? '', ...flags].join(',');
    });
  });
  return `home,date,gallons,point,five\n${lines.join('\n')}\n`;
}
