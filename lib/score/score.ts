import * as z from 'zod';
import { ALERT_KINDS } from '../../shared/alerts.ts';
import { baselineSchema, baselines } from './baselines.ts';
import {
  faultScoreSchema,
  faultScores,
  type Telling,
  tellingScore,
  tellingScoreSchema,
  tellingsOf,
} from './faultScores.ts';
import { calibrationsSchema, kindScoreSchema, kindScores } from './kindScores.ts';
import { loadScore, loadScoreSchema } from './loadScore.ts';
import { runScore, runScoreSchema } from './runScore.ts';
import { byRaising, dayOf, faultsOf, type ScoredUnit } from './scoredUnit.ts';
import type { MadeFleet } from './stallBound.ts';
import { stallScore, stallScoreSchema } from './stallScore.ts';
import { isHealthy, unitYears } from './unitYears.ts';

const count = z.int().min(0);
const share = z.number().min(0).max(1).nullable();

/**
 * How well a fleet is watched, against the truth about it. What is a share, a median or a rate is null where there was
 * nothing to take it of.
 */
export const scoreSchema = z.object({
  units: count,
  healthyUnits: count.describe('Units without any injected fault'),
  unitYears: z.number().min(0).describe('Unit-years of 365.25 days that were watched'),
  faults: z.array(faultScoreSchema).describe('How well each fault is told'),
  events: z
    .array(tellingScoreSchema.extend({ kind: z.enum(ALERT_KINDS) }))
    .describe('The same by the kind of alert that should name the fault'),
  tooShort: count.describe('Faults not counted: they, or the watch, ended before there was much to go by'),
  neverShown: count.describe('Faults not counted: they made no difference while they lasted'),
  kinds: z
    .array(kindScoreSchema)
    .describe('How far alerts of each kind can be trusted; of those that were raised'),
  calibration: calibrationsSchema.describe('How far probabilities of all kinds together came true'),
  falseAHealthyUnitYear: z
    .number()
    .min(0)
    .nullable()
    .describe('False alarms of all kinds on healthy units; of no-flow only those that sent somebody'),
  rightCause: share.describe('Share of the told faults of which any alert names a right cause'),
  rightCauseFirst: share.describe('Share of the told faults of which the first alert does'),
  stall: stallScoreSchema,
  runs: runScoreSchema.nullable().describe('Null where the events were not read'),
  load: loadScoreSchema.describe('What a dispatcher of 2,000 such units sees'),
  afterEnd: count.describe('Alerts not judged: raised after the last day of the truth was over and reported'),
  baselines: z
    .array(baselineSchema)
    .nullable()
    .describe('What no alert at all and simple rules would score; null where the events were not read'),
});

export type Score = z.infer<typeof scoreSchema>;

/**
 * Scores alerts against the truth. The order of units and alerts does not matter.
 *
 * @param made how the fleet was made, for the bound of what can be known; without it there is none
 */
export function scoreFleet(given: readonly ScoredUnit[], made?: MadeFleet): Score {
  const units = given.map(untilItsEnd);
  const found = units.map(faultsOf);
  const sum = (of: (each: (typeof found)[number]) => number) =>
    found.reduce((total, each) => total + of(each), 0);
  const tellings = units.flatMap((unit, index) => tellingsOf(unit, found[index]?.faults ?? []));
  const { scores: kinds, calibration } = kindScores(units);
  const { rightCause, rightCauseFirst } = tellingScore(tellings);
  const isSeen = units.length > 0 && units.every(({ seen }) => seen !== undefined);
  return {
    units: units.length,
    healthyUnits: units.filter(isHealthy).length,
    unitYears: unitYears(units),
    faults: faultScores(tellings),
    events: eventScores(tellings),
    tooShort: sum(({ tooShort }) => tooShort),
    neverShown: sum(({ neverShown }) => neverShown),
    ...{ kinds, calibration, rightCause, rightCauseFirst },
    falseAHealthyUnitYear: falseOnHealthy(units),
    stall: stallScore(units),
    runs: isSeen ? runScore(units, made) : null,
    load: loadScore(units),
    afterEnd: given.reduce(
      (total, { alerts }, index) => total + alerts.length - (units[index]?.alerts.length ?? 0),
      0,
    ),
    baselines: isSeen ? baselines(units) : null,
  };
}

/**
 * A unit without the alerts of which the truth says nothing any more. An event that comes late makes a replay's clock
 * run on after the last day of a fleet, and then all of it falls silent.
 */
function untilItsEnd(unit: ScoredUnit): ScoredUnit {
  const alerts = unit.alerts.filter(({ raisedAt }) => dayOf(unit, raisedAt) <= unit.to + 1);
  return { ...unit, alerts: alerts.sort(byRaising) };
}

function eventScores(tellings: readonly Telling[]): Score['events'] {
  return ALERT_KINDS.flatMap((kind) => {
    const own = tellings.filter(({ fault }) => fault.truth.kind === kind);
    return own.length === 0 ? [] : [{ kind, ...tellingScore(own) }];
  });
}

/** A question to the household is scored for itself, as a needless one. */
function falseOnHealthy(units: readonly ScoredUnit[]): number | null {
  const healthy = units.filter(isHealthy);
  const trips = stallScore(healthy).falseTripsAUnitYear;
  if (trips === null) return null;
  return kindScores(healthy)
    .scores.filter(({ kind }) => kind !== 'no-flow')
    .reduce((sum, { falseAHealthyUnitYear }) => sum + (falseAHealthyUnitYear ?? 0), trips);
}
