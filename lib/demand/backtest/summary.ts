import type { Interval } from './grid.ts';
import type { HomeScore } from './scoreHome.ts';

/** A home's own coverage of an 80 % interval is fair from the one to the other. */
export const FAIR_COVERAGE = { least: 0.7, most: 0.9 } as const;

/**
 * How well a family forecast all homes, so many days together. Losses are the means over homes, each of the same weight;
 * null without any.
 */
export interface FamilyScore {
  readonly family: string;
  readonly days: number;
  readonly homes: number;
  readonly forecasts: number;
  readonly loss: number | null;
  /** By what share that is below the loss of the family that all are measured by, and in what share of homes; null for itself. */
  readonly below: number | null;
  readonly homesBelow: number | null;
  readonly lossAt: readonly (number | null)[];
  readonly crps: number | null;
  readonly intervalScore: number | null;
  /** The median home's: one that stood empty in its warm-up has next to nothing to scale by, and would rule a mean. */
  readonly mase: number | null;
  /** Share of all that came, of whatever home, that lay within each central interval. */
  readonly coverage: Readonly<Record<Interval, number>>;
  /** Share of homes whose own coverage of the 80 % interval is fair. */
  readonly homesFair: number;
  /** Share of all that came in each of the bins between the quantiles of the grid. */
  readonly bins: readonly number[];
}

/**
 * Sums homes up, by family and horizon in the order in which they first come.
 *
 * @param plain name of the family that the others are measured by
 */
export function summarise(scores: readonly HomeScore[], plain: string): FamilyScore[] {
  const groups = new Map<string, [HomeScore, ...HomeScore[]]>();
  for (const score of scores) {
    const group = groups.get(keyOf(score.family, score.days));
    if (group) group.push(score);
    else groups.set(keyOf(score.family, score.days), [score]);
  }
  return [...groups.values()].map((group) => {
    const [{ family, days }] = group;
    return summed(group, family === plain ? [] : (groups.get(keyOf(plain, days)) ?? []));
  });
}

function summed(group: readonly [HomeScore, ...HomeScore[]], plain: readonly HomeScore[]): FamilyScore {
  const [{ family, days, lossAt }] = group;
  const forecasts = group.reduce((sum, each) => sum + each.forecasts, 0);
  const pooled = (of: (home: HomeScore) => number) =>
    group.reduce((sum, home) => sum + home.forecasts * of(home), 0) / forecasts;
  const loss = meanOf(group.map((home) => home.loss));
  const plainLoss = meanOf(plain.map((home) => home.loss));
  const plainOf = new Map(plain.map((home) => [home.home, home.loss]));
  const better = group.flatMap((home) => {
    const other = plainOf.get(home.home) ?? null;
    return home.loss === null || other === null ? [] : home.loss < other ? 1 : 0;
  });
  const fair = group.filter(
    ({ coverage }) => coverage[80] >= FAIR_COVERAGE.least && coverage[80] <= FAIR_COVERAGE.most,
  );
  return {
    family,
    days,
    homes: group.length,
    forecasts,
    loss,
    below: loss === null || !plainLoss ? null : 1 - loss / plainLoss,
    homesBelow: meanOf(better),
    lossAt: lossAt.map((_, index) => meanOf(group.map((home) => home.lossAt[index] ?? null))),
    crps: meanOf(group.map((home) => home.crps)),
    intervalScore: meanOf(group.map((home) => home.intervalScore)),
    mase: medianOf(group.map((home) => home.mase)),
    coverage: {
      50: pooled(({ coverage }) => coverage[50]),
      80: pooled(({ coverage }) => coverage[80]),
      90: pooled(({ coverage }) => coverage[90]),
    },
    homesFair: fair.length / group.length,
    bins: group[0].bins.map((_, bin) => pooled(({ bins }) => bins[bin] ?? 0)),
  };
}

/** The mean of the values that there are. */
function meanOf(values: readonly (number | null)[]): number | null {
  const known = values.filter((each) => each !== null);
  return known.length === 0 ? null : known.reduce((sum, each) => sum + each, 0) / known.length;
}

function medianOf(values: readonly (number | null)[]): number | null {
  const known = values.filter((each) => each !== null).sort((a, b) => a - b);
  return meanOf(known.slice((known.length - 1) >> 1, (known.length >> 1) + 1));
}

function keyOf(family: string, days: number): string {
  return `${days} ${family}`;
}
