/**
 * What is believed of a home before its own days have spoken: the fleet it belongs to, in the terms of the
 * demand model. Each part says how many days (or weeks) of the home's own record it weighs.
 */
export interface FleetPrior {
  /** Mean use of a day at home, gallons. */
  readonly level: number;
  /** Variance of that level between homes, relative to its square. Large means that a home's own days soon count. */
  readonly levelVariance: number;
  /** Variance of one home day about its expected use, relative to the square of that. */
  readonly spread: number;
  /** Days that `spread` weighs. */
  readonly spreadDays: number;
  /** Use of each weekday over the home's mean, Sunday first; the mean of the seven is 1. */
  readonly weekday: readonly number[];
  /** Weeks that `weekday` weighs. */
  readonly weekdayWeeks: number;
  /** Probability that a home day is followed by an away day, 0 to 1, and the home days that it weighs. */
  readonly leaving: number;
  readonly leavingDays: number;
  /** Probability that an away day is followed by a home day, 0 to 1, and the away days that it weighs. */
  readonly returning: number;
  readonly returningDays: number;
}

/** Geometric standard deviation between homes: NRC 1999, Risk Assessment of Radon in Drinking Water, p. 56. */
const SPREAD_BETWEEN_HOMES = 1.8;

/** The prior where nothing is known but that it is a home: published figures, and where none was found, wide ones. */
export const PUBLISHED_PRIOR: FleetPrior = {
  // Indoor use of a home, mean: Water Research Foundation, Residential End Uses of Water v2 (DeOreo 2016).
  level: 138,
  levelVariance: Math.exp(Math.log(SPREAD_BETWEEN_HOMES) ** 2) - 1,
  // A coefficient of variation of about 0.5 from day to day; from memory, unverified (published: 0.3 to 0.6).
  spread: 0.25,
  spreadDays: 10,
  weekday: [1, 1, 1, 1, 1, 1, 1],
  weekdayWeeks: 6,
  leaving: 0.02,
  leavingDays: 25,
  returning: 0.3,
  returningDays: 3,
};
