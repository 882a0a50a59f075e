import type { AlertCause, Severity } from '../../shared/alerts.ts';
import type { Unit } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
import { formatLocalDate } from '../../shared/time/localDate.ts';
import { availableGrains } from '../unit/bed.ts';
import { expectedDrawLb } from '../unit/brineDraw.ts';
import { believedGallons } from '../unit/control.ts';
import { controlCapacityGallons } from '../unit/outlook.ts';
import type { UnitState } from '../unit/state.ts';
import { ranked, type WatchedKind } from './kind.ts';
import { overrunCauses } from './overrunCauses.ts';
import { cycleBefore, lastingCycle, type OverrunCycle } from './overrunCycle.ts';
import { type OverrunPattern, overrunPattern } from './overrunPattern.ts';
import type { OverrunRules } from './rules/overrun.ts';

/**
 * The bed treated more than its true capacity before it was regenerated. The treated water is metered; the capacity
 * is known to its spread, so the probability is that of a normal capacity lying below what was used. An episode lasts
 * until a whole cycle has stayed within: one that comes back every cycle is one episode.
 */
export const overrun: WatchedKind<OverrunRules> = {
  kind: 'overrun',
  consequenceOf: ['no-flow', 'low-registration', 'no-salt-draw', 'setting-mismatch', 'missed-regeneration'],
  look(unit, state, rules, at, isOpen) {
    const cycle = likelierCycle(unit, state, rules);
    if (!cycle) return null;
    const { probability } = cycle;
    if (probability < rules.clear || (probability < rules.raise && !isOpen)) return null;
    const inHand = isInHand(unit, state, cycle.lasting, at);
    if (inHand && !isOpen) return null;
    const { weights, putRight } = overrunCauses(state, cycle, rules);
    const isSeenTo = inHand || putRight > 0.5;
    if (isSeenTo && !isOpen) return null;
    const causes = ranked(weights);
    const cause = causes[0]?.cause ?? 'reserve-short';
    const share = cycle.availableGrains > 0 ? cycle.usedGrains / cycle.availableGrains - 1 : 1;
    const pattern = overrunPattern(state, rules);
    const severity =
      probability >= rules.raise && !isSeenTo
        ? severityAt(cause, share, cycle.lasting, pattern !== null, rules)
        : null;
    if (severity === null && !isOpen) return null;
    return {
      probability,
      causes,
      severity,
      lasts: true,
      summary: () => summary(cycle, cause, share, pattern),
      evidence: () => evidence(state, cycle, pattern),
    };
  },
};

/**
 * Of the cycle that lasts and the one before, that which is the likelier to have run over; null where neither has used so
 * much that it may be told: quick, since mostly none has.
 */
function likelierCycle(unit: Unit, state: UnitState, rules: OverrunRules): OverrunCycle | null {
  const { bed, draw } = state;
  const { previous } = bed;
  // Below an even chance the spread decides; from there on it takes all that the bed had.
  const least = rules.clear >= 0.5 ? 1 : 0.8;
  const mayLast = bed.usedGrains >= least * availableGrains(bed, expectedDrawLb(draw, bed.saltDoseLb));
  const mayHave = previous !== null && previous.usedGrains >= least * previous.availableGrains;
  if (!mayLast && !mayHave) return null;
  const before = cycleBefore(unit, state, rules);
  if (!mayLast) return before;
  const current = lastingCycle(unit, state, rules);
  return before && before.probability > current.probability ? before : current;
}

/** Whether somebody has seen to it: a hand ended the cycle that ran over, or a technician is there today. */
function isInHand(unit: Unit, { count, lastVisit }: UnitState, lasting: boolean, at: Instant): boolean {
  if (!lasting && !count.endedByItself) return true;
  return lastVisit !== null && unit.zone.dateAt(lastVisit) === unit.zone.dateAt(at);
}

/**
 * A reserve that was short of one day is made good at the next hour, and is shown where it did real harm or comes back;
 * the other causes go on until somebody comes.
 */
function severityAt(
  cause: AlertCause,
  share: number,
  lasting: boolean,
  repeated: boolean,
  rules: OverrunRules,
): Severity | null {
  if (cause === 'reserve-short') return share >= rules.harmShare || repeated ? 'routine' : null;
  return lasting && share >= rules.urgentShare ? 'urgent' : 'soon';
}

const CAUSE_WORDS: Readonly<Record<string, string>> = {
  'no-salt-draw': 'the last regeneration brought no salt',
  'capacity-setting': 'the control counts on more capacity than its salt dose gives',
  'regeneration-missed': 'it was due to regenerate and did not',
  'reserve-short': 'the household used more in a day than the reserve held back',
  'meter-fault': 'the meter counts less than what flows',
};

function summary(
  { lasting, exhaustedOn }: OverrunCycle,
  cause: AlertCause,
  share: number,
  pattern: OverrunPattern | null,
): string {
  const percent = share > 10 ? 'over 1000 %' : `${Math.round(share * 100)} %`;
  const when = exhaustedOn === null ? '' : `, from ${formatLocalDate(exhaustedOn)}`;
  const tense = lasting ? 'has treated' : 'treated';
  const again = pattern === null ? '' : `, as in each of the last ${pattern.cycles} cycles`;
  return `The bed ${tense} ${percent} more than its capacity${when}${again}: ${CAUSE_WORDS[cause] ?? cause}.`;
}

function evidence(state: UnitState, cycle: OverrunCycle, pattern: OverrunPattern | null) {
  const { bed, count, programmed } = state;
  return {
    usedGrains: cycle.usedGrains,
    capacityGrains: cycle.availableGrains,
    compensatedHardnessGpg: state.compensatedHardnessGpg,
    exhaustedOn: dateText(cycle.exhaustedOn),
    saltDoseLb: bed.saltDoseLb,
    programmedCapacityGrains: programmed.capacityGrains,
    programmedHardnessGpg: programmed.hardnessGpg,
    programmedGallons: finite(believedGallons(programmed)),
    controlActsAtGallons: finite(controlCapacityGallons(state)),
    trueGallons: bed.capacityGrains / state.compensatedHardnessGpg,
    dueSince: dateText(count.missedSince),
    missedMornings: count.missedMornings,
    imputedGrains: bed.imputedGrains,
    cyclesOverrun: pattern?.cycles ?? 0,
    inService: state.inService,
  };
}

/** A control set to a hardness of 0 would go on for ever. */
function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}

function dateText(date: number | null): string | null {
  return date === null ? null : formatLocalDate(date);
}
