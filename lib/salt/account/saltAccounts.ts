import { compareText } from '../../../shared/compareText.ts';
import { recordOf } from '../../../shared/records.ts';
import type { Instant } from '../../../shared/time/instant.ts';
import { estimateOf, inProportion, ratioOf } from '../../estimate/interval.ts';
import { CHLORIDE_MASS_FRACTION } from '../../softening/chloride.ts';
import { SODIUM_LB_PER_GRAIN, SODIUM_MASS_FRACTION } from '../../softening/sodium.ts';
import type { KnownMonths } from '../knownMonths.ts';
import { type UnitMonth, unitMonths } from '../unitMonths.ts';
import { WASTE_CAUSES } from '../waste.ts';
import { type DrawnShare, MeasuredDoses } from './drawnShare.ts';
import { asSetByMonth, inUseByMonth } from './efficiencyCount.ts';
import { RegionSum } from './regionSum.ts';
import type { SaltAccount } from './saltAccount.ts';
import type { SaltRules } from './saltRules.ts';

/**
 * Salt accounts of a company's regions, added up unit by unit, in any order. What it keeps grows with regions and
 * months and not with units. How it is worked out, in words: method.ts.
 */
export class SaltAccounts {
  readonly #until: Instant;
  readonly #rules: SaltRules;
  readonly #regions = new Map<string, RegionSum>();
  /** Of the whole company, by month. */
  readonly #measured = new Map<string, MeasuredDoses>();

  /** @param until the end of the days that are owed */
  constructor(until: Instant, rules: SaltRules) {
    this.#until = until;
    this.#rules = rules;
  }

  /** Adds all that is known of one unit; each unit once. */
  add(known: KnownMonths) {
    const months = unitMonths(known, this.#until);
    const asSet = asSetByMonth(months);
    const inUse = inUseByMonth(months, this.#rules.inUseLeastDays);
    months.forEach((month, index) => {
      this.#regionOf(month).add(month, { asSet: asSet[index] ?? null, inUse: inUse[index] ?? null });
    });
    for (const [month, measured] of measuredByMonth(months)) {
      const doses = this.#measured.get(month) ?? new MeasuredDoses();
      this.#measured.set(month, doses);
      doses.add(measured);
    }
  }

  /** The accounts, by region and month. */
  accounts(): SaltAccount[] {
    return [...this.#regions.values()]
      .sort((a, b) => compareText(a.region, b.region) || compareText(a.month, b.month))
      .map((sum) => accountOf(sum, this.#until, this.#shareOf(sum.month)));
  }

  #shareOf(month: string): DrawnShare {
    return (this.#measured.get(month) ?? new MeasuredDoses()).share(this.#rules.drawnShare);
  }

  #regionOf({ region, month }: UnitMonth): RegionSum {
    const key = `${region} ${month}`;
    const sum = this.#regions.get(key) ?? new RegionSum(region, month);
    this.#regions.set(key, sum);
    return sum;
  }
}

type Measured = Pick<UnitMonth, 'measuredSaltLb' | 'measuredDoseLb' | 'measuredVariance'>;

/** What a unit's sensor measured, by month: one that moved in between is one unit all the same. */
function measuredByMonth(months: readonly UnitMonth[]): Map<string, Measured> {
  const measured = new Map<string, Measured>();
  for (const account of months) {
    const other = measured.get(account.month);
    measured.set(account.month, {
      measuredSaltLb: account.measuredSaltLb + (other?.measuredSaltLb ?? 0),
      measuredDoseLb: account.measuredDoseLb + (other?.measuredDoseLb ?? 0),
      measuredVariance: account.measuredVariance + (other?.measuredVariance ?? 0),
    });
  }
  return measured;
}

function accountOf(region: RegionSum, asOf: Instant, share: DrawnShare): SaltAccount {
  const { sums } = region;
  const unmeasuredDoses = sums.inferredSaltLb + sums.imputedSaltLb;
  const inferred = share.mean * sums.inferredSaltLb;
  const imputed = share.mean * sums.imputedSaltLb;
  const salt = {
    value: sums.measuredSaltLb + inferred + imputed,
    variance:
      // A sensor's noise that makes what was measured too high makes the drawn share too high as well.
      sums.measuredVariance * (1 + 2 * unmeasuredDoses * share.perMeasuredLb) +
      unmeasuredDoses ** 2 * share.variance +
      region.unmeasuredDoseSquares * share.unitVariance +
      share.mean ** 2 * sums.imputedSaltVariance,
  };
  const saltLb = estimateOf(salt, 0);
  const grains = {
    value: sums.grainsRemoved + sums.imputedGrains,
    variance: region.imputedGrainsVariance,
  };
  return {
    region: region.region,
    month: region.month,
    asOf,
    units: region.units,
    unitsReporting: region.unitsReporting,
    unitsMeasured: region.unitsMeasured,
    daysExpected: region.daysExpected,
    daysCounted: sums.daysCounted,
    daysImputed: sums.daysImputed,
    regenerations: sums.regenerations,
    regenerationsImputed: sums.regenerationsImputed,
    treatedGallons: sums.treatedGallons,
    imputedGallons: sums.imputedGallons,
    waterGallons: estimateOf(
      { value: sums.treatedGallons + sums.imputedGallons, variance: sums.imputedGallonsVariance },
      sums.treatedGallons,
    ),
    measuredSaltLb: sums.measuredSaltLb,
    inferredSaltLb: inferred,
    imputedSaltLb: imputed,
    saltLb,
    drawnShare: estimateOf({ value: share.mean, variance: share.variance }, 0),
    deliveredSaltLb: sums.deliveredSaltLb,
    regenerationGallons: sums.regenerationGallons,
    inferredRegenerationGallons: sums.inferredRegenerationGallons,
    grainsRemoved: sums.grainsRemoved,
    imputedGrains: sums.imputedGrains,
    grainsPerLb: ratioOf(grains, salt),
    chlorideLb: inProportion(saltLb, CHLORIDE_MASS_FRACTION.NaCl),
    sodiumLb: inProportion(saltLb, SODIUM_MASS_FRACTION),
    sodiumInWaterLb: grains.value * SODIUM_LB_PER_GRAIN,
    hardGallons: sums.hardGallons,
    hardDays: sums.hardDays,
    asSet: region.asSet.count,
    inUse: region.inUse.count,
    // It is booked in doses on record.
    wastedLb: recordOf(WASTE_CAUSES, (cause) => share.mean * (region.wasted[cause] ?? 0)),
  };
}
