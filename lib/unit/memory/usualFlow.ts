import { keptShort } from './keptShort.ts';

/** What a day's flow tells: logarithms of its US gallons and of its peak in gal/min; and its hours with flow, if known. */
export interface DayLogs {
  readonly use: number;
  readonly peak: number;
  readonly hours: number | null;
}

/**
 * How water usually flows at a unit whose meter registers all of it, learnt day by day: plain data. Peak and hours with
 * flow are regressed on the day's use, for both grow with it: what is left over does not change with the household.
 */
export interface UsualFlow {
  /** Days behind it, older ones fading. */
  days: number;
  /** Mean and variance of the logarithm of a day's use. */
  use: number;
  useVariance: number;
  /** Mean of the logarithm of a day's peak; its covariance with use; its variance about the line. */
  peak: number;
  peakCovariance: number;
  peakVariance: number;
  /** The same of the hours with flow (not of their logarithm), and the days behind those. */
  hours: number;
  hoursCovariance: number;
  hoursVariance: number;
  hoursDays: number;
}

/** How far a day is from what is usual, and how far such days scatter (standard deviations). */
export interface Deviations {
  readonly use: number;
  readonly useSpread: number;
  /** From what is usual of a day of that use; hours are null where they are not known. */
  readonly peak: number;
  readonly peakSpread: number;
  readonly hours: number | null;
  readonly hoursSpread: number;
  /** What peak and hours change by with use. */
  readonly peakSlope: number;
  readonly hoursSlope: number;
}

/** Days that are remembered. */
const MEMORY_DAYS = 60;
/**
 * What is taken for usual before anything is known, and how many days it weighs. Measured on the finer records behind
 * fixtures/README.md: the logarithm of a day's peak scatters by 0.19 about a slope of 0.19 on that of its use in the
 * Naples apartment (174 days of flow events), by 0.10 about 0.45 in the Burnaby house (14 days by minutes). Hours with
 * flow scatter by 1.8 to 4.9 about slopes of 0.8 to 4.5 in that house and seven homes of Alicante.
 */
const PRIOR = {
  days: 8,
  useVariance: 0.25,
  peakVariance: 0.19 ** 2,
  peakSlope: 0.25,
  hoursVariance: 9,
  hoursSlope: 3,
} as const;
/** The peak of a day is one draw of many: it grows slower than use does. */
const MOST_PEAK_SLOPE = 0.6;
/** Smaller scatter is not believed: readings are rounded, and homes change. */
const LEAST = { peakVariance: 0.1 ** 2, hoursVariance: 1 } as const;
/** A day counts for no more than so many standard deviations. */
const OUTLIER = 2.5;

/** Of a unit that has reported nothing yet. */
export function nothingUsual(): UsualFlow {
  return {
    days: 0,
    use: 0,
    useVariance: 0,
    peak: 0,
    peakCovariance: 0,
    peakVariance: 0,
    hours: 0,
    hoursCovariance: 0,
    hoursVariance: 0,
    hoursDays: 0,
  };
}

/** A copy that shares nothing. */
export function copyUsual(usual: UsualFlow): UsualFlow {
  return {
    days: usual.days,
    use: usual.use,
    useVariance: usual.useVariance,
    peak: usual.peak,
    peakCovariance: usual.peakCovariance,
    peakVariance: usual.peakVariance,
    hours: usual.hours,
    hoursCovariance: usual.hoursCovariance,
    hoursVariance: usual.hoursVariance,
    hoursDays: usual.hoursDays,
  };
}

/** Compares a day with what is usual; there must be a day to compare with. */
export function deviationsOf(usual: UsualFlow, day: DayLogs): Deviations {
  const { days, hoursDays, useVariance } = usual;
  const peakVariance = Math.max(LEAST.peakVariance, pooled(usual.peakVariance, days, PRIOR.peakVariance));
  const hoursVariance = Math.max(
    LEAST.hoursVariance,
    pooled(usual.hoursVariance, hoursDays, PRIOR.hoursVariance),
  );
  const peakSlope = Math.min(
    MOST_PEAK_SLOPE,
    slope(usual.peakCovariance, useVariance, days, PRIOR.peakSlope),
  );
  const hoursSlope = Math.max(0, slope(usual.hoursCovariance, useVariance, hoursDays, PRIOR.hoursSlope));
  const use = day.use - usual.use;
  const useSpread = spreadOf(pooled(useVariance, days, PRIOR.useVariance), days);
  // With much more use than usual a peak grows no further: two taps are open at most.
  const along = Math.min(use, OUTLIER * useSpread);
  return {
    use,
    useSpread,
    peak: day.peak - usual.peak - peakSlope * along,
    peakSpread: spreadOf(peakVariance, days),
    hours: day.hours === null || hoursDays === 0 ? null : day.hours - usual.hours - hoursSlope * along,
    hoursSpread: spreadOf(hoursVariance, hoursDays),
    peakSlope,
    hoursSlope,
  };
}

/** Takes a day in. `deviations` are those of {@link deviationsOf}; null for the first day, which has none. */
export function learn(usual: UsualFlow, day: DayLogs, deviations: Deviations | null) {
  if (deviations === null) {
    Object.assign(usual, nothingUsual(), { days: 1, use: day.use, peak: day.peak });
    learnHours(usual, day.hours, 0, null);
    return;
  }
  const days = Math.min(MEMORY_DAYS, usual.days + 1);
  const use = clipped(deviations.use, deviations.useSpread);
  const offLine = clipped(deviations.peak, deviations.peakSpread);
  const peak = offLine + deviations.peakSlope * use;
  usual.days = days;
  usual.use = towards(usual.use, usual.use + use, days);
  usual.useVariance = towards(usual.useVariance, use * use, days);
  usual.peak = towards(usual.peak, usual.peak + peak, days);
  usual.peakCovariance = towards(usual.peakCovariance, use * peak, days);
  usual.peakVariance = towards(usual.peakVariance, offLine * offLine, days);
  learnHours(usual, day.hours, use, deviations);
}

function learnHours(usual: UsualFlow, hours: number | null, use: number, deviations: Deviations | null) {
  if (hours === null) return;
  usual.hoursDays = Math.min(MEMORY_DAYS, usual.hoursDays + 1);
  if (deviations === null || deviations.hours === null) {
    usual.hours = hours;
    return;
  }
  const offLine = clipped(deviations.hours, deviations.hoursSpread);
  const more = offLine + deviations.hoursSlope * use;
  usual.hoursCovariance = towards(usual.hoursCovariance, use * more, usual.hoursDays);
  usual.hoursVariance = towards(usual.hoursVariance, offLine * offLine, usual.hoursDays);
  usual.hours = towards(usual.hours, usual.hours + more, usual.hoursDays);
}

/** Lets it be believed no more than what so many days would have taught: something may have changed. */
export function lessSure(usual: UsualFlow, days: number) {
  usual.days = Math.min(usual.days, days);
  usual.hoursDays = Math.min(usual.hoursDays, days);
}

/** Standard deviation of one more day, the mean being known from so many. */
function spreadOf(variance: number, days: number): number {
  return Math.sqrt(variance * (1 + 1 / Math.max(1, days)));
}

function clipped(deviation: number, spread: number): number {
  return Math.max(-OUTLIER * spread, Math.min(OUTLIER * spread, deviation));
}

function towards(mean: number, value: number, days: number): number {
  return keptShort(mean + (value - mean) / days);
}

function pooled(own: number, days: number, prior: number): number {
  return (days * own + PRIOR.days * prior) / (days + PRIOR.days);
}

/** Slope of a regression, drawn towards the prior one by some days of common scatter. */
function slope(covariance: number, variance: number, days: number, prior: number): number {
  const weight = PRIOR.days * PRIOR.useVariance;
  return (days * covariance + weight * prior) / (days * variance + weight);
}
