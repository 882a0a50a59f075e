import { type Alert, type AlertKind, CAUSES } from '../../shared/alerts.ts';
import { isJustified } from './justified.ts';
import type { ScoredUnit } from './scoredUnit.ts';
import { type Bin, brierOf, calibrationError, type Forecast, reliability, shareOf } from './statistics.ts';

/** How far alerts of one kind can be trusted. */
export interface KindScore {
  readonly kind: AlertKind;
  readonly raised: number;
  /** Share of them that tell of something that was so. */
  readonly precision: number | null;
  readonly falseAlarms: number;
  readonly falseAUnitYear: number;
  /** The same on units without any fault. */
  readonly falseAHealthyUnitYear: number;
  /** Of the probabilities of all steps of their history. */
  readonly calibrationError: number | null;
  readonly brier: number | null;
  readonly reliability: readonly Bin[];
}

const DAYS_A_YEAR = 365.25;

/** Unit-years that were watched. */
export function unitYears(units: readonly ScoredUnit[]): number {
  return units.reduce((sum, { from, to }) => sum + (to - from + 1), 0) / DAYS_A_YEAR;
}

/** Whether nothing was ever wrong with a unit. */
export function isHealthy({ truth }: ScoredUnit): boolean {
  return truth.every(({ what }) => what !== 'fault');
}

/** How far alerts can be trusted, kind by kind; kinds that were never raised are left out. */
export function kindScores(units: readonly ScoredUnit[]): KindScore[] {
  const years = unitYears(units);
  const healthyYears = unitYears(units.filter(isHealthy));
  const judged = units.flatMap((unit) =>
    unit.alerts.map((alert) => ({ alert, isTrue: isJustified(unit, alert), isHealthy: isHealthy(unit) })),
  );
  return (Object.keys(CAUSES) as AlertKind[]).flatMap((kind): KindScore[] => {
    const own = judged.filter(({ alert }) => alert.kind === kind);
    if (own.length === 0) return [];
    const wrong = own.filter(({ isTrue }) => !isTrue);
    const forecasts = own.flatMap(({ alert, isTrue }) => forecastsOf(alert, isTrue));
    return [
      {
        kind,
        raised: own.length,
        precision: shareOf(own, ({ isTrue }) => isTrue),
        falseAlarms: wrong.length,
        falseAUnitYear: wrong.length / years,
        falseAHealthyUnitYear: wrong.filter((each) => each.isHealthy).length / healthyYears,
        calibrationError: calibrationError(forecasts),
        brier: brierOf(forecasts),
        reliability: reliability(forecasts),
      },
    ];
  });
}

function forecastsOf({ history }: Alert, happened: boolean): Forecast[] {
  return history.map(({ probability }) => ({ probability, happened }));
}
