import * as z from 'zod';
import type { ScoredUnit } from './scoredUnit.ts';
import { type MadeFleet, stallPosteriors } from './stallBound.ts';
import { stallsOf } from './stallScore.ts';
import { brierOf, quantile, shareOf } from './statistics.ts';
import { perUnitYear } from './unitYears.ts';
import { type ZeroDay, type ZeroRun, zeroRunsOf } from './zeroRuns.ts';

const share = z.number().min(0).max(1).nullable();
const day = z.number().min(0).nullable();

const brierSchema = z.object({
  count: z.int().min(0).describe('Days that were judged'),
  stalled: z.int().min(0).describe('Those of them on which the meter was stalled'),
  brier: share.describe('Brier score of the probability said last, 0 where no alert was open'),
  ofSilence: share.describe('That of saying 0 always'),
  ofShare: share.describe(
    'That of saying always which share of these days is stalled, which nobody knows beforehand',
  ),
  bound: share.describe(
    'That of who knows how the fleet was made, and sees a meter dwindle for certain: the least that anybody can have',
  ),
});

const pointSchema = z.object({
  threshold: z.number().describe('Acting as soon as his probability is this'),
  medianDay: day.describe('Day of a stall on which he acts; null if that is fewer than half'),
  byDay21: share.describe('Share of the stalls on which he acts by day 21'),
  wrongAUnitYear: z
    .number()
    .min(0)
    .nullable()
    .describe('Acts while no meter was stalled: questions or trips for nothing'),
});

/** Runs of three days without flow or more: away, or stalled? */
export const runScoreSchema = z.object({
  runs: z.int().min(0).describe('Runs that reach three reported days without flow'),
  thirdDay: brierSchema.describe('On the third day of each'),
  fromThirdDay: brierSchema.describe('On all their days from the third on'),
  boundCurve: z
    .array(pointSchema)
    .nullable()
    .describe(
      'What acting on the perfect posterior would bring; null where the fleet is not one of invented homes',
    ),
});

export type RunScore = z.infer<typeof runScoreSchema>;

type Brier = z.infer<typeof brierSchema>;
type Point = z.infer<typeof pointSchema>;

/** A day of a run with the probability that perfect knowledge gives. */
interface JudgedDay extends ZeroDay {
  readonly bound: number | null;
}

const FROM_DAY = 3;
/** A stall that lasts for less is not counted; see the scores of stalls. */
const LONG_DAYS = 21;
const THRESHOLDS = [0.02, 0.05, 0.1, 0.15, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9] as const;

/**
 * Scores what was said of runs of days without flow.
 *
 * @param fleet how it was made; without it, or for real homes, there is no bound
 */
export function runScore(units: readonly ScoredUnit[], fleet: MadeFleet | undefined): RunScore {
  const runs = units.flatMap((unit) => judgedRunsOf(unit, fleet).map((days) => ({ unit, days })));
  const days = runs.flatMap((run) => run.days.filter(({ nth }) => nth >= FROM_DAY));
  return {
    runs: days.filter(({ nth }) => nth === FROM_DAY).length,
    thirdDay: brierScores(days.filter(({ nth }) => nth === FROM_DAY)),
    fromThirdDay: brierScores(days),
    boundCurve: fleet === undefined ? null : THRESHOLDS.map((threshold) => pointAt(threshold, units, runs)),
  };
}

function judgedRunsOf(unit: ScoredUnit, fleet: MadeFleet | undefined): JudgedDay[][] {
  const bare = ({ days }: ZeroRun) => days.map((each) => ({ ...each, bound: null }));
  if (fleet === undefined) return zeroRunsOf(unit).map(bare);
  return stallPosteriors(unit, fleet).map(({ run, posteriors }) =>
    run.days.map((each, index) => ({ ...each, bound: posteriors[index] ?? null })),
  );
}

function brierScores(days: readonly JudgedDay[]): Brier {
  const stalled = days.filter(({ isStalled }) => isStalled).length;
  const of = (probability: (day: JudgedDay) => number) =>
    brierOf(days.map((each) => ({ probability: probability(each), happened: each.isStalled })));
  return {
    count: days.length,
    stalled,
    brier: of(({ said }) => said),
    ofSilence: of(() => 0),
    ofShare: of(() => stalled / days.length),
    bound: days.every(({ bound }) => bound !== null) ? of(({ bound }) => bound ?? 0) : null,
  };
}

/** What acting at a threshold brings: a day without flow is known, and acted on, on the day after. */
function pointAt(
  threshold: number,
  units: readonly ScoredUnit[],
  runs: readonly { unit: ScoredUnit; days: readonly JudgedDay[] }[],
): Point {
  const acts = runs.flatMap(({ unit, days }) => {
    const act = days.find(({ bound }) => (bound ?? 0) >= threshold);
    return act ? [{ unit, act }] : [];
  });
  const delays = units.flatMap((unit) =>
    stallsOf(unit)
      .filter(({ from, to }) => Math.min(to, unit.to) - from >= LONG_DAYS)
      .map(({ from, to }) => {
        const during = runs.filter(
          (run) => run.unit === unit && run.days.some(({ date }) => date >= from && date < to),
        );
        const first = during.flatMap(({ days }) => days.find(({ bound }) => (bound ?? 0) >= threshold) ?? []);
        return Math.max(0, Math.min(...first.map(({ date }) => date + 1 - from)));
      }),
  );
  const median = quantile(delays, 0.5);
  return {
    threshold,
    medianDay: median === Infinity ? null : median,
    byDay21: shareOf(delays, (delay) => delay <= LONG_DAYS),
    wrongAUnitYear: perUnitYear(acts.filter(({ act }) => !act.isStalled).length, units),
  };
}
