import * as z from 'zod';
import type { Severity } from '../../shared/alerts.ts';
import type { Unit } from '../../shared/registry.ts';
import { formatLocalDate } from '../../shared/time/localDate.ts';
import { availableGrains } from '../unit/bed.ts';
import { expectedDrawLb } from '../unit/brineDraw.ts';
import { isDue } from '../unit/control.ts';
import { reserveOf } from '../unit/controlCount.ts';
import { controlCapacityGallons } from '../unit/outlook.ts';
import type { UnitState } from '../unit/state.ts';
import { dueRules } from './dueRules.ts';
import { type DueJudgement, judgeDue } from './judgeDue.ts';
import { ranked, type WatchedKind } from './kind.ts';

const probability = () => z.number().min(0).max(1);

export const missedRegenerationRulesSchema = () =>
  z.strictObject({
    ...dueRules(),
    soon: probability()
      .default(0.85)
      .describe('Hard water follows within days, so a fair certainty is enough to go'),
    routine: probability()
      .default(0.6)
      .describe(
        'From here it is shown, where the settings are sure: only a report on its way speaks against it',
      ),
    sureSettings: probability()
      .default(0.15)
      .describe('Settings are sure while it is less probable than this that the control is set to more'),
    routineMornings: z
      .int()
      .positive()
      .default(7)
      .describe('After so many mornings it is shown though the settings are not sure: either needs somebody'),
    clear: probability().default(0.3).describe('Well below what raises it'),
    leftInSetUp: probability()
      .default(0.97)
      .describe('A control that still reports its set-up mode after a night was left in it'),
    setUpNights: z
      .int()
      .positive()
      .default(1)
      .describe('So many nights in set-up mode: whoever programs a control is done within the day'),
    notInService: probability()
      .default(0.5)
      .describe(
        'Share of such failures that are a control out of service, the rest a drive. A guess, no source',
      ),
    reportedInService: probability()
      .default(0.05)
      .describe(
        'What is left of that share where the control reports its settings, and set-up is not among them',
      ),
    urgentShare: z
      .number()
      .positive()
      .default(0.5)
      .describe('Half a bed over: days of hard water, and no end to it'),
  });

export type MissedRegenerationRules = z.infer<ReturnType<typeof missedRegenerationRulesSchema>>;

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
