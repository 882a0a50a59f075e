import type { Unit } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';
import { chlorideLb } from '../softening/chloride.ts';
import { isInMonth, type MonthAccount, newMonth } from './monthAccount.ts';

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

interface Sum extends Omit<MonthAccount, 'from' | 'until'> {
  region: string;
  unitsReporting: number;
  daysExpected: number;
}

/**
 * Salt accounts of regions, added up unit by unit. From its first flow day on, a unit owes one for every local day of
 * its site until the replay's end; those it does not give are missing, and nothing is put in their place.
 */
export class RegionAccounts {
  readonly #until: Instant;
  readonly #sums = new Map<string, Sum>();

  /** @param until the replay's end */
  constructor(until: Instant) {
    this.#until = until;
  }

  /** Adds the months of one unit. */
  add(
    unit: Pick<Unit, 'region' | 'zone'>,
    months: readonly MonthAccount[],
    firstDate: LocalDate | undefined,
  ) {
    for (const account of months) this.#addMonth(unit.region, account);
    if (firstDate !== undefined) this.#expectDays(unit.region, firstDate, unit.zone.dateAt(this.#until) - 1);
  }

  /** The rows, by region and month. */
  rows(): RegionMonth[] {
    return [...this.#sums.values()]
      .map(toRow)
      .sort((a, b) => compare(a.region, b.region) || compare(a.month, b.month));
  }

  #addMonth(region: string, account: MonthAccount) {
    const sum = this.#sumOf(region, account.month);
    if (account.daysCounted > 0) sum.unitsReporting += 1;
    sum.daysCounted += account.daysCounted;
    sum.regenerations += account.regenerations;
    sum.treatedGallons += account.treatedGallons;
    sum.measuredSaltLb += account.measuredSaltLb;
    sum.inferredSaltLb += account.inferredSaltLb;
    sum.regenerationGallons += account.regenerationGallons;
    sum.grainsRemoved += account.grainsRemoved;
  }

  #expectDays(region: string, first: LocalDate, last: LocalDate) {
    let month = newMonth(first);
    for (let date = first; date <= last; date = month.until) {
      if (!isInMonth(month, date)) month = newMonth(date);
      this.#sumOf(region, month.month).daysExpected += Math.min(month.until - 1, last) - date + 1;
    }
  }

  #sumOf(region: string, month: string): Sum {
    const key = `${region} ${month}`;
    const known = this.#sums.get(key);
    if (known) return known;
    const sum: Sum = {
      region,
      month,
      unitsReporting: 0,
      daysExpected: 0,
      daysCounted: 0,
      regenerations: 0,
      treatedGallons: 0,
      measuredSaltLb: 0,
      inferredSaltLb: 0,
      regenerationGallons: 0,
      grainsRemoved: 0,
    };
    this.#sums.set(key, sum);
    return sum;
  }
}

function toRow(sum: Sum): RegionMonth {
  const salt = sum.measuredSaltLb + sum.inferredSaltLb;
  return {
    region: sum.region,
    month: sum.month,
    units_reporting: sum.unitsReporting,
    unit_days: sum.daysCounted,
    unit_days_missing: Math.max(0, sum.daysExpected - sum.daysCounted),
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

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
