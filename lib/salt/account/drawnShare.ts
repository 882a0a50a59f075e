import type { MonthAccount } from '../monthAccount.ts';
import type { SaltRules } from './saltRules.ts';

/** What a dose on record comes to, where no level sensor tells. */
export interface DrawnShare {
  /** Salt drawn over doses on record, of units on the whole; and the variance of that belief. */
  readonly mean: number;
  readonly variance: number;
  /** Variance from one unit to another within a month. */
  readonly unitVariance: number;
  /** By how much the mean rises for each lb that sensors read more than was drawn. */
  readonly perMeasuredLb: number;
}

/** A dose of less than this is none, lb: over it nothing could be told. */
const LEAST_DOSE_LB = 0.01;

type Measured = Pick<MonthAccount, 'measuredSaltLb' | 'measuredDoseLb' | 'measuredVariance'>;

/**
 * What level sensors saw drawn of the doses on record in one month, over all units of a company: sums only, so that any
 * number of units takes no room.
 */
export class MeasuredDoses {
  #units = 0;
  #salt = 0;
  #dose = 0;
  #noise = 0;
  #saltSquares = 0;
  #saltTimesDose = 0;
  #doseSquares = 0;

  /** Adds a unit's month. One of which no sensor measured anything says nothing. */
  add({ measuredSaltLb, measuredDoseLb, measuredVariance }: Measured) {
    if (!(measuredDoseLb >= LEAST_DOSE_LB)) return;
    this.#units += 1;
    this.#salt += measuredSaltLb;
    this.#dose += measuredDoseLb;
    this.#noise += measuredVariance;
    this.#saltSquares += measuredSaltLb ** 2;
    this.#saltTimesDose += measuredSaltLb * measuredDoseLb;
    this.#doseSquares += measuredDoseLb ** 2;
  }

  /**
   * The drawn share of the month: what was measured over the doses on record, and what is believed without any sensor,
   * each weighed by how well it is known.
   */
  share({ mean, deviation, unitDeviation, unitDeviationUnits }: SaltRules['drawnShare']): DrawnShare {
    const believed = { mean, variance: deviation ** 2, unitVariance: unitDeviation ** 2, perMeasuredLb: 0 };
    if (this.#units === 0) return believed;
    const measured = this.#salt / this.#dose;
    const weight = unitDeviationUnits + this.#units - 1;
    const unitVariance =
      (unitDeviationUnits * believed.unitVariance + (this.#units - 1) * this.#unitVariance(measured)) /
      weight;
    const variance = (unitVariance * this.#doseSquares + this.#noise) / this.#dose ** 2;
    const precision = 1 / variance + 1 / believed.variance;
    return {
      mean: Math.max(0, (measured / variance + mean / believed.variance) / precision),
      variance: 1 / precision,
      unitVariance,
      perMeasuredLb: 1 / variance / precision / this.#dose,
    };
  }

  /** By moments: squares of what units are off the common share, less what sensor noise makes of them. */
  #unitVariance(share: number): number {
    const squares = this.#saltSquares - 2 * share * this.#saltTimesDose + share ** 2 * this.#doseSquares;
    return Math.max(0, (squares - this.#noise) / this.#doseSquares);
  }
}

/** The drawn share by what sensors of many units measured, each unit's months as one entry. */
export function drawnShareOf(units: Iterable<Measured>, rules: SaltRules['drawnShare']): DrawnShare {
  const doses = new MeasuredDoses();
  for (const unit of units) doses.add(unit);
  return doses.share(rules);
}
