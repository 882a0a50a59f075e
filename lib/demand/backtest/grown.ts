import { type Household, newHousehold, observe, skip } from '../household.ts';
import type { UsedDay } from './usedDay.ts';

/** What is known of a home after all of its reported days, in order of date. */
export function grown(record: readonly UsedDay[]): Household {
  let household = newHousehold();
  let next = record[0]?.date ?? 0;
  for (const { date, gallons } of record) {
    for (; next < date; next++) household = skip(household, next);
    household = observe(household, date, gallons);
    next = date + 1;
  }
  return household;
}
