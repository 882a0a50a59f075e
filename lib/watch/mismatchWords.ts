import type { AlertCause } from '../../shared/alerts.ts';
import type { Unit } from '../../shared/registry.ts';
import { settingsFor } from '../advice/settingsFor.ts';
import { believedGallons } from '../unit/control.ts';
import type { UnitState } from '../unit/state.ts';
import type { SettingsJudgement } from './judgeSettings.ts';
import type { Evidence } from './kind.ts';
import { overrunPattern } from './overrunPattern.ts';
import type { SettingMismatchRules } from './rules/settingMismatch.ts';
import type { Impossible } from './soundSettings.ts';

const IMPOSSIBLE_WORDS: Readonly<Record<Impossible, (state: UnitState) => string>> = {
  hardness: ({ programmed }) => `a hardness of ${tenth(programmed.hardnessGpg)} gpg`,
  'no-capacity': () => 'no capacity at all',
  'more-than-salt': ({ programmed, bed }) =>
    `${grains(programmed.capacityGrains)}, more than ${tenth(bed.saltDoseLb)} lb of salt can ever exchange`,
  'more-than-resin': ({ programmed, bed }) =>
    `${grains(programmed.capacityGrains)}, more than ${tenth(bed.resinCubicFeet)} ft3 of resin can hold`,
  dose: ({ bed }) =>
    `a dose of ${tenth(bed.saltDoseLb)} lb for ${tenth(bed.resinCubicFeet)} ft3 of resin, more than makes sense`,
};

/** One sentence: what is wrong, what it does, and what to set. */
export function mismatchSummary(
  state: UnitState,
  judged: SettingsJudgement,
  cause: AlertCause | null,
  rules: SettingMismatchRules,
): string {
  const { programmed, bed } = state;
  const right = settingsFor(bed.capacityGrains, state.compensatedHardnessGpg);
  const both = `set ${grains(right.capacityGrains)} and ${right.hardnessGpg} gpg`;
  if (judged.impossible)
    return `The control or its record has ${IMPOSSIBLE_WORDS[judged.impossible](state)}: ${both}.`;
  if (judged.learntGallons !== null)
    return `${learntWords(state, judged)}${effect(state, judged, rules)}: ${both}.`;
  const gives = `${tenth(bed.saltDoseLb)} lb of salt give about ${grains(roundedGrains(bed.capacityGrains))}`;
  const water = `the water has about ${tenth(state.compensatedHardnessGpg)} gpg with its iron`;
  const isCapacity = cause === 'capacity-too-high' || cause === 'capacity-too-low';
  const what = isCapacity
    ? `The control counts on ${grains(programmed.capacityGrains)} where ${gives}`
    : `The control is set to ${tenth(programmed.hardnessGpg)} gpg where ${water}`;
  const set = cancels(judged, rules)
    ? both
    : isCapacity
      ? `set ${grains(right.capacityGrains)}`
      : `set ${right.hardnessGpg} gpg`;
  return `${what}${effect(state, judged, rules)}: ${set}.`;
}

/** Whether the control regenerates in time although a setting is wrong. */
function cancels({ share }: SettingsJudgement, rules: SettingMismatchRules): boolean {
  return Math.abs(share) < rules.hardShare;
}

function learntWords(state: UnitState, { learntGallons, share }: SettingsJudgement): string {
  const goesBy = Math.round(learntGallons ?? 0);
  const trueGallons = Math.round(state.bed.capacityGrains / state.compensatedHardnessGpg);
  const which =
    share > 0
      ? 'its capacity is set too high or its hardness too low'
      : 'its capacity is set too low or its hardness too high';
  return `The control goes by about ${goesBy} gallons where its bed gives ${trueGallons}: ${which}`;
}

function effect(state: UnitState, judged: SettingsJudgement, rules: SettingMismatchRules): string {
  const pattern = overrunPattern(state, rules);
  if (pattern) {
    const percent = Math.round(pattern.share * 100);
    return `, and in each of the last ${pattern.cycles} cycles soft days gave way to hard ones, ${percent} % over`;
  }
  if (cancels(judged, rules)) return ', but the other setting makes up for it';
  return judged.share > 0
    ? ', so that hard water comes before it regenerates'
    : ', which wastes salt and water';
}

/** What it was told from, and what to set. */
export function mismatchEvidence(
  unit: Unit,
  state: UnitState,
  judged: SettingsJudgement,
  rules: SettingMismatchRules,
): Evidence {
  const { programmed, bed } = state;
  const right = settingsFor(bed.capacityGrains, state.compensatedHardnessGpg);
  const programmedGallons = believedGallons(programmed);
  const pattern = overrunPattern(state, rules);
  const { share } = judged;
  return {
    programmedCapacityGrains: programmed.capacityGrains,
    programmedHardnessGpg: programmed.hardnessGpg,
    programmedGallons: Number.isFinite(programmedGallons) ? programmedGallons : null,
    capacityGrains: bed.capacityGrains,
    saltDoseLb: bed.saltDoseLb,
    usualSaltDrawnLb: state.draw.usualSaltLb,
    resinCubicFeet: bed.resinCubicFeet,
    rawHardnessGpg: state.rawHardnessGpg,
    ironMgPerL: unit.ironMgPerL,
    compensatedHardnessGpg: state.compensatedHardnessGpg,
    trueGallons: bed.capacityGrains / state.compensatedHardnessGpg,
    gallonsOverTrue: Number.isFinite(share) ? share : null,
    deviationsCancel: cancels(judged, rules),
    impossible: judged.impossible,
    learntGallons: judged.learntGallons,
    probabilitySetOtherwise: judged.otherwise,
    cyclesOverrun: pattern?.cycles ?? 0,
    meanOverrun: pattern?.share ?? null,
    setCapacityGrains: right.capacityGrains,
    setHardnessGpg: right.hardnessGpg,
  };
}

function roundedGrains(value: number): number {
  return Math.round(value / 100) * 100;
}

function grains(value: number): string {
  return `${String(Math.round(value)).replace(/\B(?=(\d{3})+$)/g, ',')} grains`;
}

function tenth(value: number): string {
  return String(Math.round(value * 10) / 10);
}
