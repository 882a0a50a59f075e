import type { Severity } from '../../shared/alerts.ts';
import type { Unit } from '../../shared/registry.ts';
import { formatLocalDate } from '../../shared/time/localDate.ts';
import { availableGrains } from '../unit/bed.ts';
import { expectedDrawLb } from '../unit/brineDraw.ts';
import { isDue } from '../unit/control.ts';
import { reserveOf } from '../unit/controlCount.ts';
import { controlCapacityGallons } from '../unit/outlook.ts';
import type { UnitState } from '../unit/state.ts';
import { type DueJudgement, judgeDue } from './judgeDue.ts';
import { ranked, type WatchedKind } from './kind.ts';
import type { MissedRegenerationRules } from './rules/missedRegeneration.ts';

/**
 * The control should have regenerated at its hour and did not. That it was due is known by its count; what speaks
 * against a failure is that it may be set to more than is known, that the count may be a little off, and that the report
 * of its regeneration may be on the way. A control that reports its set-up mode says so itself.
 */
export const missedRegeneration: WatchedKind<MissedRegenerationRules> = {
  kind: 'missed-regeneration',
  consequenceOf: ['long-regeneration', 'no-flow'],
  heeds: ['flow-day', 'regeneration', 'salt-level', 'settings', 'service-visit', 'power'],
  look(unit, state, rules) {
    const { count, inService } = state;
    if (inService && count.missedMornings === 0) return null;
    if (!inService && count.idleMornings < rules.setUpNights) return null;
    const judged = inService ? judgeDue(unit, state, rules) : null;
    const probability = judged ? judged.failed : rules.leftInSetUp;
    if (probability < rules.clear) return null;
    return {
      probability,
      causes: ranked(causesOf(state, rules)),
      severity: severityOf(unit, state, probability, judged?.setOtherwise ?? 0, rules),
      lasts: true,
      summary: () => summary(unit, state),
      evidence: () => evidence(unit, state, judged),
    };
  },
};

/** Set-up is looked at when convenient until the control is due: until then it does no harm. */
function severityOf(
  unit: Unit,
  state: UnitState,
  probability: number,
  setOtherwise: number,
  rules: MissedRegenerationRules,
): Severity | null {
  if (probability < rules.soon) {
    const isWorthALook =
      setOtherwise < rules.sureSettings || state.count.missedMornings >= rules.routineMornings;
    return probability >= rules.routine && isWorthALook ? 'routine' : null;
  }
  if (overShare(state) >= rules.urgentShare) return 'urgent';
  return isDueNow(unit, state) ? 'soon' : 'routine';
}

function causesOf({ inService, count }: UnitState, rules: MissedRegenerationRules) {
  if (!inService) return { 'not-in-service': 1 };
  const out = rules.notInService * (count.settings === 'reported' ? rules.reportedInService : 1);
  return { 'drive-failed': 1 - rules.notInService, 'not-in-service': out };
}

function isDueNow(unit: Unit, state: UnitState): boolean {
  const { count } = state;
  const left = controlCapacityGallons(state) - count.gallons;
  return count.missedMornings > 0 || isDue(left, reserveOf(count, unit.alternating));
}

/** How much more the bed has treated than it could, as a share. */
function overShare({ bed, draw }: UnitState): number {
  const available = availableGrains(bed, expectedDrawLb(draw, bed.saltDoseLb));
  return available > 0 ? bed.usedGrains / available - 1 : 0;
}

function summary(unit: Unit, state: UnitState): string {
  const { count, inService } = state;
  const since = count.missedSince === null ? null : formatLocalDate(count.missedSince);
  if (!inService) {
    return isDueNow(unit, state)
      ? 'The control is in its set-up mode and does not regenerate by itself, though it is due.'
      : 'The control was left in its set-up mode, in which it does not regenerate by itself.';
  }
  const mornings = count.missedMornings === 1 ? 'one morning' : `${count.missedMornings} mornings`;
  return `The control was due to regenerate on ${since} and has not for ${mornings}: its drive has failed or it is out of service.`;
}

function evidence(unit: Unit, state: UnitState, judged: DueJudgement | null) {
  const { count, bed, programmed } = state;
  return {
    dueSince: count.missedSince === null ? null : formatLocalDate(count.missedSince),
    missedMornings: count.missedMornings,
    countedGallons: count.gallons,
    imputedGallons: count.imputedGallons,
    reserveGallons: reserveOf(count, unit.alternating),
    controlActsAtGallons: controlCapacityGallons(state),
    programmedCapacityGrains: programmed.capacityGrains,
    programmedHardnessGpg: programmed.hardnessGpg,
    settingsKnown: count.settings,
    inService: state.inService,
    nightsInSetUp: count.idleMornings,
    lastRegenerationOn: state.regeneratedOn === null ? null : formatLocalDate(state.regeneratedOn),
    overCapacity: overShare(state),
    usedGrains: bed.usedGrains,
    probabilitySetOtherwise: judged?.setOtherwise ?? 0,
    probabilityNotDue: judged?.notDue ?? 0,
    probabilityUnreported: judged?.unreported ?? 0,
  };
}
