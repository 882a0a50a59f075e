import type { Instant } from '../../shared/time/instant.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';
import { wholeMonth } from '../../shared/time/month.ts';
import type { KnownMonths } from './knownMonths.ts';
import { type MonthAccount, newMonth, SUMMED } from './monthAccount.ts';
import { spanOf } from './regionMonths.ts';
import { tenuresWithin } from './tenure.ts';
import { addWasted } from './waste.ts';

/** One unit's month in one region: its account, with what it owed. All that a region's account is added up from. */
export interface UnitMonth extends MonthAccount {
  readonly unitId: string;
  readonly resinCubicFeet: number;
  readonly alternating: boolean;
  readonly installedOn: LocalDate;
  /** Local days of which it owed a flow day: from its first one on, until the end. */
  readonly daysExpected: number;
}

/**
 * The months of a unit in each region that it was counted in: those of which something is known, and those of which it
 * owed reports and gave none. A unit that came back to a region within a month has one of it.
 *
 * @param until as of when; the end of the days that are owed
 */
export function unitMonths({ unit, months, firstDate, owesUntil }: KnownMonths, until: Instant): UnitMonth[] {
  const end = Math.min(until, owesUntil ?? until);
  const made = new Map<string, UnitMonth>();
  const add = (account: MonthAccount, daysExpected: number) => {
    const key = `${account.month} ${account.region}`;
    const other = made.get(key);
    const { unitId, resinCubicFeet, alternating, installedOn } = unit;
    made.set(key, {
      ...(other ? sumOf(other, account) : account),
      ...{ unitId, resinCubicFeet, alternating, installedOn },
      daysExpected: (other?.daysExpected ?? 0) + daysExpected,
    });
  };
  for (const account of months) add(account, 0);
  for (const { first, last } of firstDate === undefined ? [] : spansOwed(unit, months, firstDate, end)) {
    for (let date = first; date <= last; ) {
      const end = Math.min(last, wholeMonth(date).until - 1);
      add(newMonth(date, unit), end - date + 1);
      date = end + 1;
    }
  }
  return [...made.values()].sort((a, b) => a.from - b.from);
}

/** A silence of more days is left out: one odd date is no century. As long as RegionMonths has rows of it. */
const LONGEST_SILENCE_DAYS = 24 * 31;

/** The local days owed, in each region, without those of a silence that is too long. */
function spansOwed(
  unit: KnownMonths['unit'],
  months: readonly MonthAccount[],
  firstDate: LocalDate,
  until: Instant,
) {
  const { first, last } = spanOf(unit, firstDate, until);
  const spans: { first: LocalDate; last: LocalDate }[] = [];
  let from = first;
  for (const account of [...months, { from: last + 1, until: last + 1 }]) {
    if (account.from - from <= LONGEST_SILENCE_DAYS)
      spans.push({ first: from, last: Math.min(last, account.until - 1) });
    else spans.push({ first: account.from, last: Math.min(last, account.until - 1) });
    from = Math.max(from, account.until);
  }
  return spans.flatMap((span) => tenuresWithin(unit, span));
}

/** Two accounts of one month and region together. */
function sumOf(a: MonthAccount, b: MonthAccount): MonthAccount {
  const sum = { ...a };
  for (const name of SUMMED) sum[name] = a[name] + b[name];
  return {
    ...sum,
    from: Math.min(a.from, b.from),
    until: Math.max(a.until, b.until),
    saltDoseLb: b.saltDoseLb ?? a.saltDoseLb,
    wasted: addWasted(a.wasted, b.wasted),
  };
}
