import * as z from 'zod';
import type { Alert } from '../../shared/alerts.ts';
import { type LocalDate, parseLocalDate } from '../../shared/time/localDate.ts';
import { dayOf, faultsOf, type ScoredUnit } from './scoredUnit.ts';
import { quantile, shareOf } from './statistics.ts';
import { perUnitYear } from './unitYears.ts';

const share = z.number().min(0).max(1).nullable();
const rate = z.number().min(0).nullable();

/**
 * How stalled meters are told from households that are away: first a question, then a technician. Days count from the
 * day of the stall itself, although nobody can know of it while the household is away.
 */
export const stallScoreSchema = z.object({
  stalls: z.int().min(0).describe('Stalls that lasted 21 days or more'),
  medianDayAsked: z
    .number()
    .min(0)
    .nullable()
    .describe('Day on which the household was asked (any no-flow alert); null if fewer than half were asked'),
  needlessQuestionsAUnitYear: rate.describe('No-flow alerts raised while no meter was stalled'),
  sentByDay21: share.describe('Share for which a technician was sent (soon or urgent) by day 21'),
  falseTripsAUnitYear: rate.describe('Technicians sent while no meter was stalled'),
});

export type StallScore = z.infer<typeof stallScoreSchema>;

const SENT_BY_DAYS = 21;

export function stallScore(units: readonly ScoredUnit[]): StallScore {
  const asked: number[] = [];
  const sent: number[] = [];
  let needless = 0;
  let falseTrips = 0;
  for (const unit of units) {
    const spans = stallsOf(unit);
    const alerts = unit.alerts.filter(({ kind }) => kind === 'no-flow');
    const isReal = (instant: string) => {
      const day = dayOf(unit, instant);
      // A day without flow is known on the next one.
      return spans.some(({ from, to }) => day > from && day <= to + 1);
    };
    needless += alerts.filter(({ raisedAt }) => !isReal(raisedAt)).length;
    falseTrips += alerts.flatMap(trips).filter((at) => !isReal(at)).length;
    for (const { truth, endsOn } of faultsOf(unit).faults) {
      if (truth.kind !== 'no-flow') continue;
      const from = parseLocalDate(truth.from) ?? 0;
      const delays = (instants: string[]) =>
        instants.map((at) => dayOf(unit, at) - from).filter((days) => days <= endsOn - from + 1);
      const during = alerts.filter(
        ({ clearedAt, raisedAt }) =>
          dayOf(unit, raisedAt) <= endsOn + 1 && (clearedAt === null || dayOf(unit, clearedAt) > from),
      );
      // Raised before, and open when the meter stalled: on its first day. Never: later than any day.
      asked.push(Math.max(0, Math.min(...delays(during.map(({ raisedAt }) => raisedAt)))));
      sent.push(Math.max(0, Math.min(...delays(during.flatMap(trips)))));
    }
  }
  const median = quantile(asked, 0.5);
  return {
    stalls: sent.length,
    medianDayAsked: median === Infinity ? null : median,
    needlessQuestionsAUnitYear: perUnitYear(needless, units),
    sentByDay21: shareOf(sent, (day) => day <= SENT_BY_DAYS),
    falseTripsAUnitYear: perUnitYear(falseTrips, units),
  };
}

/** When a technician was sent. */
function trips({ history }: Alert): string[] {
  const step = history.find(({ severity }) => severity !== 'routine');
  return step ? [step.at] : [];
}

/** When the meter of a unit was stalled, from the day of the stall to that of the mending. */
export function stallsOf({
  truth,
}: ScoredUnit): { from: LocalDate; to: LocalDate; dwindlingFrom: LocalDate }[] {
  return truth
    .filter(({ what, kind }) => what === 'fault' && kind === 'no-flow')
    .map(({ from, to, detail }) => ({
      from: parseLocalDate(from) ?? Infinity,
      to: parseLocalDate(to ?? '') ?? Infinity,
      dwindlingFrom: parseLocalDate(String(detail.dwindlingFrom)) ?? Infinity,
    }));
}
