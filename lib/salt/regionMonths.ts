import { compareText } from '../../shared/compareText.ts';
import type { Unit } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';
import { wholeMonth } from '../../shared/time/month.ts';
import { chlorideLb } from '../softening/chloride.ts';
import { isReported, type MonthAccount } from './monthAccount.ts';
import { tenuresWithin } from './tenure.ts';

/** One row of `salt.csv`: a region's month. A ratio without anything to divide by is null. */
export interface RegionMonth {
  region: string;
  month: string;
  units_reporting: number;
  unit_days: number;
  unit_days_missing: number;
  regenerations: number;
  water_treated_gal: number;
  salt_used_lb: number;
  salt_measured_share: number | null;
  salt_inferred_share: number | null;
  regeneration_water_gal: number;
  grains_removed: number;
  grains_per_lb: number | null;
  chloride_lb: number;
}

/** What is summed of the accounts of a region's month. */
interface Sum {
  month: string;
  from: LocalDate;
  until: LocalDate;
  unitsReporting: number;
  daysCounted: number;
  regenerations: number;
  treatedGallons: number;
  measuredSaltLb: number;
  inferredSaltLb: number;
  regenerationGallons: number;
  grainsRemoved: number;
}

type Month = Pick<Sum, 'month' | 'from' | 'until'>;

/** The local days of which a unit owes a report, both ends in it. */
interface Span {
  first: LocalDate;
  last: LocalDate;
}

/** A region that reported nothing for longer than this has no rows for the months between: one odd date is no century. */
const LONGEST_SILENCE_MONTHS = 24;

/**
 * The months of regions as `salt.csv` has them, added up unit by unit. From its first flow day on, a unit owes one for
 * every local day of its site until the replay's end; those it does not give are missing, and nothing is put in their
 * place.
 */
export class RegionMonths {
  readonly #until: Instant;
  readonly #sums = new Map<string, Map<string, Sum>>();
  readonly #spans = new Map<string, Span[]>();

  /** @param until the replay's end */
  constructor(until: Instant) {
    this.#until = until;
  }

  /**
   * Adds the months of one unit.
   *
   * @param owesUntil until when it owes flow days, where that is over before the end
   */
  add(
    unit: Pick<Unit, 'region' | 'formerRegions' | 'zone'>,
    months: readonly MonthAccount[],
    firstDate: LocalDate | undefined,
    owesUntil: Instant = this.#until,
  ) {
    const counted = new Set<string>();
    for (const account of months) {
      if (!isReported(account)) continue;
      const of = `${account.region} ${account.month}`;
      // A unit that came back to a region within a month has two accounts of it and is one unit.
      this.#addMonth(account, account.daysCounted > 0 && !counted.has(of));
      if (account.daysCounted > 0) counted.add(of);
    }
    if (firstDate === undefined) return;
    for (const { region, ...span } of tenuresWithin(
      unit,
      spanOf(unit, firstDate, Math.min(owesUntil, this.#until)),
    )) {
      const spans = this.#spans.get(region);
      if (spans) spans.push(span);
      else this.#spans.set(region, [span]);
    }
  }

  /** The rows, by region and month. */
  rows(): RegionMonth[] {
    return [...this.#sums]
      .sort(([a], [b]) => compareText(a, b))
      .flatMap(([region, sums]) => {
        const spans = this.#spans.get(region) ?? [];
        const last = Math.max(...spans.map((span) => span.last));
        return monthsOf(
          [...sums.values()].map(({ from }) => from),
          last,
        ).map((month) => {
          const owed = spans.reduce((days, span) => days + daysIn(month, span), 0);
          return toRow(region, sums.get(month.month) ?? newSum(month), owed);
        });
      });
  }

  #addMonth(account: MonthAccount, isFirst: boolean) {
    const sums = this.#sums.get(account.region) ?? new Map<string, Sum>();
    this.#sums.set(account.region, sums);
    const sum = sums.get(account.month) ?? newSum(account);
    sums.set(account.month, sum);
    if (isFirst) sum.unitsReporting += 1;
    sum.daysCounted += account.daysCounted;
    sum.regenerations += account.regenerations;
    sum.treatedGallons += account.treatedGallons;
    sum.measuredSaltLb += account.measuredSaltLb;
    sum.inferredSaltLb += account.inferredSaltLb;
    sum.regenerationGallons += account.regenerationGallons;
    sum.grainsRemoved += account.grainsRemoved;
  }
}

/** The local days of which a unit owes a report: from its first flow day to the one before the end. */
export function spanOf({ zone }: Pick<Unit, 'zone'>, firstDate: LocalDate, until: Instant): Span {
  return { first: firstDate, last: zone.dateAt(until) - 1 };
}

function newSum({ from }: Pick<MonthAccount, 'from'>): Sum {
  return {
    ...wholeMonth(from),
    unitsReporting: 0,
    daysCounted: 0,
    regenerations: 0,
    treatedGallons: 0,
    measuredSaltLb: 0,
    inferredSaltLb: 0,
    regenerationGallons: 0,
    grainsRemoved: 0,
  };
}

/** The months that begin at `starts`, and those between and until `last` in which nobody reported. */
function monthsOf(starts: readonly LocalDate[], last: LocalDate): Month[] {
  const months: Month[] = [];
  const sorted = [...starts].sort((a, b) => a - b);
  sorted.forEach((start, index) => {
    let month = wholeMonth(start);
    months.push(month);
    const end = sorted[index + 1] ?? last + 1;
    const silent: Month[] = [];
    while (month.until < end && silent.length <= LONGEST_SILENCE_MONTHS) {
      month = wholeMonth(month.until);
      silent.push(month);
    }
    if (silent.length <= LONGEST_SILENCE_MONTHS) months.push(...silent);
  });
  return months;
}

/** How many local days of a month lie in a span. */
function daysIn(month: Pick<MonthAccount, 'from' | 'until'>, span: Span): number {
  return Math.max(0, Math.min(month.until - 1, span.last) - Math.max(month.from, span.first) + 1);
}

function toRow(region: string, sum: Sum, daysOwed: number): RegionMonth {
  const salt = sum.measuredSaltLb + sum.inferredSaltLb;
  return {
    region,
    month: sum.month,
    units_reporting: sum.unitsReporting,
    unit_days: sum.daysCounted,
    unit_days_missing: Math.max(0, daysOwed - sum.daysCounted),
    regenerations: sum.regenerations,
    water_treated_gal: sum.treatedGallons,
    salt_used_lb: salt,
    salt_measured_share: salt > 0 ? sum.measuredSaltLb / salt : null,
    salt_inferred_share: salt > 0 ? sum.inferredSaltLb / salt : null,
    regeneration_water_gal: sum.regenerationGallons,
    grains_removed: sum.grainsRemoved,
    grains_per_lb: salt > 0 ? sum.grainsRemoved / salt : null,
    chloride_lb: chlorideLb(Math.max(0, salt)),
  };
}
