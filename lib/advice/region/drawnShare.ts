import type { SaltRules } from '../../salt/account/saltRules.ts';
import type { MonthAccount } from '../../salt/monthAccount.ts';

/** What of the doses on record is truly drawn. */
export interface DrawnShare {
  readonly mean: number;
  /** Variance of that mean, and between units about it. */
  readonly variance: number;
  readonly unitVariance: number;
}

type Measured = Pick<MonthAccount, 'measuredSaltLb' | 'measuredDoseLb' | 'measuredVariance'>;

/** The rules' guess counts as so many units of which sensors told. A guess, no source. */
const GUESS_UNITS = 5;

/**
 * What of a dose on record is drawn, by the units whose level sensors measured some, leaning on the rules' guess: each
 * unit's months together make one entry.
 */
export function drawnShare(units: readonly Measured[], rules: SaltRules['drawnShare']): DrawnShare {
  const told = units.filter(({ measuredDoseLb }) => measuredDoseLb > 0);
  const sum = (of: (unit: Measured) => number) => told.reduce((total, unit) => total + of(unit), 0);
  const doses = sum(({ measuredDoseLb }) => measuredDoseLb);
  const guessed = rules.unitDeviation ** 2;
  const precision = 1 / rules.deviation ** 2;
  if (doses === 0) return { mean: rules.mean, variance: 1 / precision, unitVariance: guessed };
  const ratio = sum(({ measuredSaltLb }) => measuredSaltLb) / doses;
  // By doses, so that a unit of which two regenerations were measured says little about the others.
  const excess = sum(
    ({ measuredSaltLb, measuredDoseLb, measuredVariance }) =>
      measuredDoseLb *
      ((measuredSaltLb / measuredDoseLb - ratio) ** 2 - measuredVariance / measuredDoseLb ** 2),
  );
  const seen = Math.max(0, excess / doses);
  const unitVariance = (told.length * seen + GUESS_UNITS * guessed) / (told.length + GUESS_UNITS);
  const ofRatio =
    (unitVariance * sum(({ measuredDoseLb }) => measuredDoseLb ** 2) + sum((unit) => unit.measuredVariance)) /
    doses ** 2;
  const variance = 1 / (1 / ofRatio + precision);
  return { mean: variance * (ratio / ofRatio + rules.mean * precision), variance, unitVariance };
}
