import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import * as z from 'zod';
import type { AlertCause, Severity } from '../../shared/alerts.ts';
import { formatLocalDate } from '../../shared/time/localDate.ts';
import { availableGrains } from '../unit/bed.ts';
import { expectedDrawLb, withoutSaltProbability } from '../unit/brineDraw.ts';
import { controlCapacityGallons } from '../unit/outlook.ts';
import type { UnitState } from '../unit/state.ts';
import { only, type WatchedKind } from './kind.ts';

export const overrunRulesSchema = z.strictObject({
  raise: z
    .number()
    .min(0)
    .max(1)
    .default(0.95)
    .describe('Nearly sure: with the spread below, about 10 % over what the record makes the capacity'),
  clear: z
    .number()
    .min(0)
    .max(1)
    .default(0.5)
    .describe('A whole cycle that is likelier than not to have stayed within'),
  capacitySpread: z
    .number()
    .positive()
    .default(0.06)
    .describe(
      'Relative standard deviation of a true capacity about the curve: resin age (5 % a year by UFC 3-240-13FN), dose, meter',
    ),
  imputedSpread: z
    .number()
    .positive()
    .default(0.5)
    .describe(
      'Relative standard deviation of the use put in the place of missing days: that of a household day',
    ),
  settingTolerance: z
    .number()
    .positive()
    .default(0.07)
    .describe('A control that goes by this much more than the true capacity is set wrong'),
  urgentShare: z
    .number()
    .positive()
    .default(0.5)
    .describe('Half a bed over: days of hard water, and no end to it'),
});

export type OverrunRules = z.infer<typeof overrunRulesSchema>;

/**
 * The bed treated more than its true capacity before it was regenerated. The treated water is metered; the capacity
 * is known to its spread, so the probability is that of a normal capacity lying below what was used. An episode lasts
 * until a whole cycle has stayed within: one that comes back every cycle is one episode.
 */
export const overrun: WatchedKind<OverrunRules> = {
  kind: 'overrun',
  consequenceOf: ['no-flow', 'low-registration', 'no-salt-draw', 'setting-mismatch', 'missed-regeneration'],
  look(_unit, state, rules) {
    const { bed } = state;
    const available = availableGrains(bed, expectedDrawLb(state.draw, bed.saltDoseLb));
    const now = over(bed.usedGrains, available, bed.imputedGrains, rules);
    const before = bed.previous
      ? over(bed.previous.usedGrains, bed.previous.availableGrains, bed.previous.imputedGrains, rules)
      : 0;
    const probability = Math.max(now, before);
    if (probability < rules.clear) return null;
    const worst = now >= before ? { used: bed.usedGrains, available } : fromPrevious(state);
    const share = worst.available > 0 ? worst.used / worst.available - 1 : 1;
    const cause = causeOf(state, now >= before, rules);
    return {
      probability,
      causes: only(cause),
      severity: probability >= rules.raise ? severity(cause, share, now >= before, rules) : null,
      lasts: true,
      summary: () => summary(state, cause, share, now >= before),
      evidence: () => evidence(state, worst),
    };
  },
};

/** Probability that `used` is more than a capacity of about `available`. */
function over(used: number, available: number, imputed: number, rules: OverrunRules): number {
  if (used < 0.8 * available) return 0;
  const spread = Math.hypot(rules.capacitySpread * available, rules.imputedSpread * imputed);
  return spread > 0 ? normalCdf(used - available, 0, spread) : 1;
}

function fromPrevious({ bed }: UnitState) {
  return { used: bed.previous?.usedGrains ?? 0, available: bed.previous?.availableGrains ?? 0 };
}

/** @param lasting whether the cycle that overran is the one that lasts, or the one before */
function causeOf(state: UnitState, lasting: boolean, rules: OverrunRules): AlertCause {
  const { count, bed } = state;
  if (lasting && withoutSaltProbability(state.draw) > 0.5) return 'no-salt-draw';
  const trueGallons = bed.capacityGrains / state.compensatedHardnessGpg;
  if (controlCapacityGallons(state) > trueGallons * (1 + rules.settingTolerance)) return 'capacity-setting';
  // A control that regenerates by its own count, but later than the record says, counts on more than is on record.
  const lateByItself = count.missedBefore > 0 && count.endedByItself;
  if (lasting && !state.inService) return 'regeneration-missed';
  if (lateByItself) return 'capacity-setting';
  return (lasting ? count.missedMornings : count.missedBefore) > 0 ? 'regeneration-missed' : 'reserve-short';
}

/** A reserve that was short of one day is made good at the next hour; the other causes go on until somebody comes. */
function severity(cause: AlertCause, share: number, lasting: boolean, rules: OverrunRules): Severity {
  if (cause === 'reserve-short') return 'routine';
  return lasting && share >= rules.urgentShare ? 'urgent' : 'soon';
}

const CAUSE_WORDS: Readonly<Record<string, string>> = {
  'no-salt-draw': 'the last regeneration brought no salt',
  'capacity-setting': 'the control counts on more capacity than its salt dose gives',
  'regeneration-missed': 'it was due to regenerate and did not',
  'reserve-short': 'the household used more in a day than the reserve held back',
};

function summary(state: UnitState, cause: AlertCause, share: number, lasting: boolean): string {
  const percent = share > 10 ? 'over 1000 %' : `${Math.round(share * 100)} %`;
  const { exhaustedOn, previous } = state.bed;
  const since = lasting ? exhaustedOn : (previous?.exhaustedOn ?? null);
  const when = since === null ? '' : `, from ${formatLocalDate(since)}`;
  const tense = lasting ? 'has treated' : 'treated';
  return `The bed ${tense} ${percent} more than its capacity${when}: ${CAUSE_WORDS[cause] ?? cause}.`;
}

function evidence(state: UnitState, worst: { used: number; available: number }) {
  const { bed, count, programmed } = state;
  return {
    usedGrains: worst.used,
    capacityGrains: worst.available,
    compensatedHardnessGpg: state.compensatedHardnessGpg,
    exhaustedOn: exhaustedDate(bed.exhaustedOn ?? bed.previous?.exhaustedOn ?? null),
    saltDoseLb: bed.saltDoseLb,
    programmedCapacityGrains: programmed.capacityGrains,
    programmedHardnessGpg: programmed.hardnessGpg,
    programmedGallons: programmed.capacityGrains / programmed.hardnessGpg,
    controlActsAtGallons: controlCapacityGallons(state),
    trueGallons: bed.capacityGrains / state.compensatedHardnessGpg,
    dueSince: exhaustedDate(count.missedSince),
    missedMornings: count.missedMornings,
    imputedGrains: bed.imputedGrains,
    inService: state.inService,
  };
}

function exhaustedDate(date: number | null): string | null {
  return date === null ? null : formatLocalDate(date);
}
