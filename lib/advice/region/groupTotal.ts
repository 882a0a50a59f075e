import { recordOf } from '../../../shared/records.ts';
import type { DrawnShare } from '../../salt/account/drawnShare.ts';
import type { Side, UnitWhatIf } from './unitWhatIf.ts';
import type { Measure } from './year.ts';
import { CURVE_ERRORS, type CurveError } from './yearAhead.ts';

/** A sum, and what it may be off by. */
export interface Total {
  readonly value: number;
  /** Of what differs from unit to unit by chance: it adds up over groups. */
  readonly variance: number;
  /** Sum of the squares of the units: for what differs from unit to unit as a share of each. */
  readonly squares: number;
  /** How far the sum moves with one deviation of what all units have in common: the same way in all groups. */
  readonly byCurve: Readonly<Record<CurveError, number>>;
}

/** The units of a region, each with its size: salt of a year by its accounts, lb, or whatever else all are measured by. */
export interface Group {
  /** Those whose past tells. */
  readonly told: readonly Answered[];
  /** Those that the others are like: the same, or those of other regions where it has none. */
  readonly like: readonly Answered[];
  /** The sizes of the others, above 0. */
  readonly others: readonly number[];
}

/** A unit whose past tells, and what it answers. */
export interface Answered {
  readonly size: number;
  readonly answer: UnitWhatIf;
}

/**
 * Before units have told, how much one deviates from the ratio of all, as a share of it, and how many units that counts
 * as. Use differs between homes by a coefficient of variation of 0.71 (NRC 1999, Risk Assessment of Radon in Drinking
 * Water, p. 56: 0.28 +/- 0.20 m3 a person and day), of which size takes some: the rest is a guess.
 */
const GUESS = { deviation: 0.5, units: 2 } as const;

/**
 * The year to come of all units of a region. Units of which nothing is told get the ratio of the others to their size:
 * the ratio estimator of a finite population, with residuals in proportion to size (R. M. Royall, Biometrika 57 (1970)
 * 377, from memory; how often its intervals hold is tested). Salt is by the doses on record.
 */
export function groupTotal({ told, like, others }: Group, measure: Measure, side: Side): Total {
  const meanOf = ({ answer }: Answered) => answer.ahead[side].mean[measure];
  const byYear = ({ answer }: Answered) => answer.ahead[side].variance[measure];
  const own = sumOf(told, meanOf);
  const likeSize = sumOf(like, ({ size }) => size);
  const otherSize = others.reduce((sum, size) => sum + size, 0);
  const otherSquares = others.reduce((sum, size) => sum + size ** 2, 0);
  const ratio = sumOf(like, meanOf) / likeSize;
  // What the years of the units told are off by, those of the others are with them.
  const carried = otherSize / likeSize;
  const offByYear =
    told.length > 0 ? sumOf(told, byYear) * (1 + carried) ** 2 : sumOf(like, byYear) * carried ** 2;
  const residual = residualOf(like, meanOf, ratio);
  const squares = sumOf(like, ({ size }) => size ** 2);
  const bySampling = residual * like.length * (carried ** 2 + otherSquares / squares);
  return {
    value: own + ratio * otherSize,
    variance: offByYear + (others.length > 0 ? bySampling : 0),
    squares: sumOf(told, (unit) => meanOf(unit) ** 2) + ratio ** 2 * otherSquares,
    byCurve: recordOf(CURVE_ERRORS, (error) => {
      const moved = ({ answer }: Answered) => answer.ahead[side].byCurve[error][measure];
      return sumOf(told, moved) + sumOf(like, moved) * carried;
    }),
  };
}

/** All groups together. */
export function together(totals: readonly Total[]): Total {
  const sum = (of: (total: Total) => number) => totals.reduce((all, total) => all + of(total), 0);
  return {
    value: sum(({ value }) => value),
    variance: sum(({ variance }) => variance),
    squares: sum(({ squares }) => squares),
    byCurve: recordOf(CURVE_ERRORS, (error) => sum(({ byCurve }) => byCurve[error])),
  };
}

/** A sum with its whole variance: what units have in common counts once, with the square of the sum. */
export function varied({ value, variance, byCurve }: Total): { value: number; variance: number } {
  const inCommon = CURVE_ERRORS.reduce((sum, error) => sum + byCurve[error] ** 2, 0);
  return { value, variance: variance + inCommon };
}

/** Mean square of what units deviate by from the ratio, leaning on the guess. */
function residualOf(like: readonly Answered[], meanOf: (unit: Answered) => number, ratio: number): number {
  const guessed = (GUESS.deviation ** 2 * sumOf(like, (unit) => meanOf(unit) ** 2)) / like.length;
  const seen = sumOf(like, (unit) => (meanOf(unit) - ratio * unit.size) ** 2);
  return (seen + GUESS.units * guessed) / (like.length - 1 + GUESS.units);
}

/** What is drawn of doses on record: each unit's own share, about one that all units of the company have in common. */
export function drawnOf(total: Total, { mean, variance, unitVariance }: DrawnShare) {
  const doses = varied(total);
  return {
    value: mean * doses.value,
    variance: mean ** 2 * doses.variance + variance * doses.value ** 2 + unitVariance * total.squares,
  };
}

function sumOf(units: readonly Answered[], of: (unit: Answered) => number): number {
  return units.reduce((sum, unit) => sum + of(unit), 0);
}
