import type { Alert } from '../../shared/alerts.ts';
import { type LocalDate, parseLocalDate } from '../../shared/time/localDate.ts';
import { unitYears } from './kindScores.ts';
import { dayOf, faultsOf, type ScoredUnit } from './scoredUnit.ts';
import { quantile, shareOf } from './statistics.ts';

/** How stalled meters are told from households that are away: first a question, then a technician. */
export interface StallScore {
  /** Stalls that lasted 21 days or more. */
  readonly stalls: number;
  readonly medianDayAsked: number | null;
  readonly needlessQuestionsAUnitYear: number;
  readonly sentByDay21: number | null;
  readonly falseTripsAUnitYear: number;
}

const SENT_BY_DAYS = 21;

export function stallScore(units: readonly ScoredUnit[]): StallScore {
  const asked: number[] = [];
  const sent: (number | undefined)[] = [];
  let needless = 0;
  let falseTrips = 0;
  for (const unit of units) {
    const spans = stallsOf(unit);
    const alerts = unit.alerts.filter(({ kind }) => kind === 'no-flow');
    const isReal = (instant: string) => {
      const day = dayOf(unit, instant);
      return spans.some(({ from, to }) => day > from && day <= to + 1);
    };
    needless += alerts.filter(({ raisedAt }) => !isReal(raisedAt)).length;
    falseTrips += alerts.filter((alert) => trips(alert).some((at) => !isReal(at))).length;
    for (const { truth, endsOn } of faultsOf(unit).faults) {
      if (truth.kind !== 'no-flow') continue;
      const from = parseLocalDate(truth.from) ?? 0;
      const delays = (instants: string[]) =>
        instants.map((at) => dayOf(unit, at) - from).filter((days) => days <= endsOn - from + 1);
      const during = alerts.filter(
        ({ clearedAt, raisedAt }) =>
          dayOf(unit, raisedAt) <= endsOn + 1 && (clearedAt === null || dayOf(unit, clearedAt) > from),
      );
      const first = Math.min(...delays(during.map(({ raisedAt }) => raisedAt)));
      if (first < Infinity) asked.push(Math.max(0, first));
      const trip = Math.min(...delays(during.flatMap(trips)));
      sent.push(trip < Infinity ? trip : undefined);
    }
  }
  const years = unitYears(units);
  return {
    stalls: sent.length,
    medianDayAsked: quantile(asked, 0.5),
    needlessQuestionsAUnitYear: needless / years,
    sentByDay21: shareOf(sent, (day) => day !== undefined && day <= SENT_BY_DAYS),
    falseTripsAUnitYear: falseTrips / years,
  };
}

/** When a technician was sent. */
function trips({ history }: Alert): string[] {
  const step = history.find(({ severity }) => severity !== 'routine');
  return step ? [step.at] : [];
}

function stallsOf({ truth }: ScoredUnit): { from: LocalDate; to: LocalDate }[] {
  return truth
    .filter(({ what, kind }) => what === 'fault' && kind === 'no-flow')
    .map(({ from, to }) => ({ from: parseLocalDate(from) ?? 0, to: parseLocalDate(to ?? '') ?? Infinity }));
}
