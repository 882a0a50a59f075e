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
}

/** A year to come, and its variance, measure by measure. */
export interface YearAhead {
  readonly mean: Year;
  readonly variance: Year;
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

/**
 * A year to come by a past one. It differs from that by chance as the parts of the past differ from each other, once for
 * the past and once for itself; by drift; and by what is not known of the bed.
 */
export function yearAhead({ days, parts, byNode }: ReplayedYears): YearAhead {
  const mean = recordOf(MEASURES, (measure) => meanOf(byNode, measure));
  const years = days / DAYS_A_YEAR;
  const variance = recordOf(MEASURES, (measure) => {
    const ofPart = varianceOf(parts.map((part) => part[measure]));
    const byChance = ofPart * parts.length * (1 / years ** 2 + 1 / years);
    const byBed = meanOf(byNode, measure, (value) => (value - mean[measure]) ** 2);
    return byChance + (DRIFT * mean[measure]) ** 2 + byBed;
  });
  return { mean, variance };
}

/** The same of what lies between two settings, replayed over the same days: it varies much less than either. */
export function between(today: ReplayedYears, imagined: ReplayedYears): YearAhead {
  return yearAhead({
    days: today.days,
    parts: lessEach(imagined.parts, today.parts),
    byNode: lessEach(imagined.byNode, today.byNode),
  });
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
