import type { LocalDate } from '../../../shared/time/localDate.ts';

/** What a home used on a day that was reported, US gallons, 0 or more. */
export interface UsedDay {
  readonly date: LocalDate;
  readonly gallons: number;
}

/** The use of `days` days from the one at `index` on, US gallons; undefined where one of them was not reported. */
export function useOf(record: readonly UsedDay[], index: number, days: number): number | undefined {
  const first = record[index];
  const last = record[index + days - 1];
  if (!first || last?.date !== first.date + days - 1) return undefined;
  let sum = 0;
  for (const { gallons } of record.slice(index, index + days)) sum += gallons;
  return sum;
}
