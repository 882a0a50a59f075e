import * as z from 'zod';
import { ALERT_KINDS, type Alert } from '../../shared/alerts.ts';
import { isSoAt, verdictsOf } from './justified.ts';
import type { ScoredUnit } from './scoredUnit.ts';
import {
  binSchema,
  type Calibration,
  calibrationOf,
  calibrationSchema,
  type Forecast,
  shareOf,
} from './statistics.ts';
import { isHealthy, perUnitYear } from './unitYears.ts';

const share = z.number().min(0).max(1).nullable();
const rate = z.number().min(0).nullable();

/** How far alerts of one kind can be trusted. */
export const kindScoreSchema = z.object({
  kind: z.enum(ALERT_KINDS),
  raised: z.int().min(0).describe('Alerts of this kind'),
  precision: share.describe('Share of them that tell of something that was so'),
  matched: z.int().min(0).describe('Those that were the first to tell of one thing that was so'),
  again: z.int().min(0).describe('Those that tell of one of which another alert of this unit told before'),
  eventPrecision: share.describe('Matched ones over matched and false ones'),
  falseAlarms: z.int().min(0).describe('Those behind which nothing was so'),
  falseAUnitYear: rate.describe('The same, a unit-year of all units'),
  falseAHealthyUnitYear: rate.describe(
    'The same on units without any injected fault, a unit-year of these; null without such units',
  ),
  calibrationError: share.describe('Expected calibration error of the probabilities of all steps of history'),
  brier: share.describe('Their Brier score'),
  reliability: z.array(binSchema).describe('Their reliability, bin by bin'),
  whenRaised: calibrationSchema.describe('The same of the probabilities when raised'),
});

export type KindScore = z.infer<typeof kindScoreSchema>;

/** Of all kinds together. */
export const calibrationsSchema = z.object({
  whenRaised: calibrationSchema.describe('Of the probabilities when raised'),
  allSteps: calibrationSchema.describe(
    'Of the probabilities of all steps of history, each against its own day',
  ),
});

interface Judged {
  readonly alert: Alert;
  readonly verdict: 'match' | 'again' | 'false';
  readonly isHealthy: boolean;
  /** Probabilities of the steps of its history, the first when it was raised. */
  readonly steps: readonly Forecast[];
}

/** How far alerts can be trusted, kind by kind (those never raised are left out), and all together. */
export function kindScores(units: readonly ScoredUnit[]): {
  scores: KindScore[];
  calibration: { whenRaised: Calibration; allSteps: Calibration };
} {
  const healthy = units.filter(isHealthy);
  const judged = units.flatMap(judgedOf);
  const scores = ALERT_KINDS.flatMap((kind): KindScore[] => {
    const own = judged.filter(({ alert }) => alert.kind === kind);
    if (own.length === 0) return [];
    const wrong = own.filter(({ verdict }) => verdict === 'false');
    const matched = own.filter(({ verdict }) => verdict === 'match').length;
    const { whenRaised, allSteps } = calibrationsOf(own);
    const { count: _, ...ofAllSteps } = allSteps;
    return [
      {
        kind,
        raised: own.length,
        precision: shareOf(own, ({ verdict }) => verdict !== 'false'),
        matched,
        again: own.length - matched - wrong.length,
        eventPrecision: matched + wrong.length > 0 ? matched / (matched + wrong.length) : null,
        falseAlarms: wrong.length,
        falseAUnitYear: perUnitYear(wrong.length, units),
        falseAHealthyUnitYear: perUnitYear(wrong.filter((each) => each.isHealthy).length, healthy),
        ...ofAllSteps,
        whenRaised,
      },
    ];
  });
  return { scores, calibration: calibrationsOf(judged) };
}

function judgedOf(unit: ScoredUnit): Judged[] {
  const healthy = isHealthy(unit);
  return verdictsOf(unit).map(({ alert, verdict }) => ({
    alert,
    verdict,
    isHealthy: healthy,
    steps: alert.history.map(({ at, probability }, step) => ({
      probability,
      happened: step === 0 ? verdict !== 'false' : isSoAt(unit, alert, at),
    })),
  }));
}

function calibrationsOf(judged: readonly Judged[]): { whenRaised: Calibration; allSteps: Calibration } {
  return {
    whenRaised: calibrationOf(judged.flatMap(({ steps }) => steps.slice(0, 1))),
    allSteps: calibrationOf(judged.flatMap(({ steps }) => steps)),
  };
}
