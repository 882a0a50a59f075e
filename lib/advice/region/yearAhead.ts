import { recordOf } from '../../../shared/records.ts';
import { DAYS_A_YEAR } from '../settings/pastUse.ts';
import { MEASURES, type Measure, type Year } from './year.ts';

/** What some replays of one past tell of a year to come. */
export interface ReplayedYears {
  /** How many days were replayed. */
  readonly days: number;
  /** What was counted in each of equal parts of them. */
  readonly parts: readonly Year[];
  /** A year by each of the {@link NODES}: had the bed given less or more than the curve says. */
  readonly byNode: readonly Year[];
  /** What the tilt of the capacity curve takes from or gives the bed at its dose, in deviations of the nodes. */
  readonly tilt: number;
}

/**
 * What may be off about the capacity curve, the same way for all units at once: its level, and how it runs from the one
 * point that was read in a source to other doses.
 */
export const CURVE_ERRORS = ['level', 'tilt'] as const;

export type CurveError = (typeof CURVE_ERRORS)[number];

/** A year to come, and its variance, measure by measure. */
export interface YearAhead {
  readonly mean: Year;
  /** Of what differs from unit to unit by chance. */
  readonly variance: Year;
  /** How far each amount moves with one standard deviation of an error that all units have in common. */
  readonly byCurve: Readonly<Record<CurveError, Year>>;
}

/**
 * Nodes and weights of the Gauss-Hermite rule of three points, for the normal: exact up to the fifth power (Abramowitz
 * and Stegun, table 25.10, from memory, unverified, but its moments are tested).
 */
export const NODES: readonly { readonly deviations: number; readonly weight: number }[] = [
  { deviations: 0, weight: 2 / 3 },
  { deviations: -Math.sqrt(3), weight: 1 / 6 },
  { deviations: Math.sqrt(3), weight: 1 / 6 },
];

/**
 * Standard deviation of a home's use from one year to the next, as a share of it, beside what its months tell: people
 * come, go and grow up. By simulated homes of two years (bench/whatIfAhead.ts); no published value was found.
 */
const DRIFT = 0.15;

/** Share of the variance of what a bed gives that lies in the curve's level, and so in all beds alike. A guess, no source. */
const LEVEL_SHARE = 0.5;

/** The dose at which the curve goes through a point that was read in a source, lb a cubic foot. */
const READ_AT_LB_PER_CUBIC_FOOT = 6;
/**
 * Standard deviation of the power of the dose by which the true curve runs above or below ours from that point on. The
 * handbooks' 24,000 to 27,000 grains at 10 lb (from memory, unverified) taken for 80 % of curves come to 0.09, their
 * 22,000 to 24,000 at 8 lb to 0.12. Below 6 lb there is no other point at all: the same is a guess there.
 */
const TILT_POWER = 0.1;

/** What one deviation of the curve's tilt does to the capacity at a dose, as a share of it. */
export function tiltAt(doseLbPerCubicFoot: number): number {
  return TILT_POWER * Math.log(doseLbPerCubicFoot / READ_AT_LB_PER_CUBIC_FOOT);
}

/**
 * A year to come by a past one. It differs from that by chance as the parts of the past differ from each other, once for
 * the past and once for itself; by drift; by what is not known of the bed; and, with all others, by what is off about the curve.
 */
export function yearAhead({ days, parts, byNode, tilt }: ReplayedYears): YearAhead {
  const slope = slopeOf(byNode);
  return {
    ...bySelf({ days, parts, byNode }, slope),
    byCurve: {
      level: recordOf(MEASURES, (measure) => Math.sqrt(LEVEL_SHARE) * slope[measure]),
      tilt: recordOf(MEASURES, (measure) => tilt * slope[measure]),
    },
  };
}

/** The variance of one unit alone, for which what all have in common is one uncertainty among others. */
export function ofOneUnit({ variance, byCurve }: YearAhead, measure: Measure): number {
  return CURVE_ERRORS.reduce((sum, error) => sum + byCurve[error][measure] ** 2, variance[measure]);
}

function bySelf(
  { days, parts, byNode }: Omit<ReplayedYears, 'tilt'>,
  slope: Year,
): Pick<YearAhead, 'mean' | 'variance'> {
  const mean = recordOf(MEASURES, (measure) => meanOf(byNode, measure));
  const years = days / DAYS_A_YEAR;
  const variance = recordOf(MEASURES, (measure) => {
    const ofPart = varianceOf(parts.map((part) => part[measure]));
    const byChance = ofPart * parts.length * (1 / years ** 2 + 1 / years);
    const byBed = meanOf(byNode, measure, (value) => (value - mean[measure]) ** 2);
    // The curve's level is in what the nodes tell, and is told apart.
    const ownBed = Math.max(0, byBed - LEVEL_SHARE * slope[measure] ** 2);
    return byChance + (DRIFT * mean[measure]) ** 2 + ownBed;
  });
  return { mean, variance };
}

/** The same of what lies between two settings, replayed over the same days: it varies much less than either. */
export function between(today: ReplayedYears, imagined: ReplayedYears): YearAhead {
  const [todayBy, imaginedBy] = [yearAhead(today).byCurve, yearAhead(imagined).byCurve];
  const years = {
    days: today.days,
    parts: lessEach(imagined.parts, today.parts),
    byNode: lessEach(imagined.byNode, today.byNode),
  };
  return {
    ...bySelf(years, slopeOf(years.byNode)),
    byCurve: recordOf(CURVE_ERRORS, (error) => less(imaginedBy[error], todayBy[error])),
  };
}

/** How far a year moves with one deviation of what the bed gives: the line that fits its nodes best. */
function slopeOf(byNode: readonly Year[]): Year {
  return recordOf(MEASURES, (measure) =>
    byNode.reduce((sum, year, node) => {
      const { weight = 0, deviations = 0 } = NODES[node] ?? {};
      return sum + weight * deviations * year[measure];
    }, 0),
  );
}

function less(year: Year, other: Year): Year {
  return recordOf(MEASURES, (measure) => year[measure] - other[measure]);
}

function lessEach(years: readonly Year[], others: readonly Year[]): Year[] {
  return years.map((year, index) =>
    recordOf(MEASURES, (measure) => year[measure] - (others[index]?.[measure] ?? 0)),
  );
}

function meanOf(byNode: readonly Year[], measure: Measure, of = (value: number) => value): number {
  return byNode.reduce((sum, year, node) => sum + (NODES[node]?.weight ?? 0) * of(year[measure]), 0);
}

/** Variance of numbers about their mean; 0 of one. */
function varianceOf(values: readonly number[]): number {
  if (values.length < 2) return 0;
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1);
}
