import type { AlertCause } from '../../shared/alerts.ts';
import { keysOf } from '../../shared/records.ts';
import type { Unit } from '../../shared/registry.ts';
import { believedGallons } from '../unit/control.ts';
import type { UnitState } from '../unit/state.ts';
import type { SettingMismatchRules } from './rules/settingMismatch.ts';
import { type OtherCapacity, otherCapacities, sumOf } from './settingsInForce.ts';
import { type SoundBand, wrongRatio, wrongRatioWithin } from './soundBand.ts';
import {
  type Impossible,
  isPlainlySound,
  type SoundSettings,
  soundSettings,
  whyImpossible,
} from './soundSettings.ts';

/** What a unit's settings look like. */
export interface SettingsJudgement {
  /** Probability that one of the settings in force is wrong. */
  readonly probability: number;
  readonly weights: Readonly<Partial<Record<AlertCause, number>>>;
  /** What the control goes by over what its bed gives, less 1; infinite where it would never regenerate. */
  readonly share: number;
  /** What it probably goes by, where its cycles contradict what is known to be programmed. US gallons. */
  readonly learntGallons: number | null;
  /** Probability that it goes by something else than is known. */
  readonly otherwise: number;
  readonly impossible: Impossible | null;
}

/** A setting that cannot be is wrong, unless it was misread on the way. */
const CERTAIN = 0.99;
const LEAST_GALLONS = 1e-3;

/** Judges the settings of a unit; null where nothing is odd about them. */
export function judgeSettings(
  unit: Unit,
  state: UnitState,
  rules: SettingMismatchRules,
): SettingsJudgement | null {
  const { programmed, bed } = state;
  const impossible = whyImpossible(unit, state, rules);
  const isPlain = !impossible && isPlainlySound(unit, state, rules);
  if (isPlain && !mayGoByOther(unit, state, rules)) return null;

  const sound = soundSettings(unit, state, rules);
  const weights: Partial<Record<AlertCause, number>> = {};
  if (impossible) weights['out-of-range'] = CERTAIN;
  const asKnown = impossible ? CERTAIN : judgeKnown(state, sound, rules, weights);
  const others = otherCapacities(unit, state, { ...rules, setUnknown: setUnknown(asKnown, rules) });
  const otherwise = sumOf(others);
  for (const cause of keysOf(weights)) {
    weights[cause] = (weights[cause] ?? 0) * (1 - otherwise);
  }
  const trueGallons = bed.capacityGrains / state.compensatedHardnessGpg;
  let wrongOtherwise = 0;
  for (const other of others) {
    const wrong = other.probability * otherWrong(other, sound, asKnown, rules);
    const isHigh = middleOf(other) > trueGallons;
    wrongOtherwise += wrong;
    add(weights, isHigh ? 'capacity-too-high' : 'capacity-too-low', wrong * rules.capacityShare);
    add(weights, isHigh ? 'hardness-too-low' : 'hardness-too-high', wrong * (1 - rules.capacityShare));
  }
  const wrongAsKnown = (1 - otherwise) * asKnown;
  const learntGallons = wrongOtherwise > wrongAsKnown ? meanOf(others) : null;
  const gallons = learntGallons ?? believedGallons(programmed);
  return {
    probability: wrongAsKnown + wrongOtherwise,
    weights,
    share: gallons / trueGallons - 1,
    learntGallons,
    otherwise,
    impossible,
  };
}

/** Whether there is anything to weigh: quick, since mostly there is not. */
function mayGoByOther(unit: Unit, state: UnitState, rules: SettingMismatchRules): boolean {
  return otherCapacities(unit, state, rules).length > 0;
}

/** Probability that the control is set otherwise than on record: the likelier, the less the record makes sense. */
function setUnknown(asKnown: number, rules: SettingMismatchRules): number {
  const recordFits = 1 - asKnown + asKnown * rules.wrong;
  return rules.setUnknown / (rules.setUnknown + (1 - rules.setUnknown) * recordFits);
}

/** Probability that one of the known settings is wrong; writes down the weight of each. */
function judgeKnown(
  { programmed }: UnitState,
  { capacity, hardness }: SoundSettings,
  rules: SettingMismatchRules,
  weights: Partial<Record<AlertCause, number>>,
): number {
  const capacityAt = Math.log(programmed.capacityGrains);
  const hardnessAt = Math.log(programmed.hardnessGpg);
  const wrongCapacity = wrongProbability(wrongRatio(capacityAt, capacity, rules.wrongSpread), rules.wrong);
  const wrongHardness = wrongProbability(wrongRatio(hardnessAt, hardness, rules.wrongSpread), rules.wrong);
  add(weights, capacityAt > middle(capacity) ? 'capacity-too-high' : 'capacity-too-low', wrongCapacity);
  add(weights, hardnessAt > middle(hardness) ? 'hardness-too-high' : 'hardness-too-low', wrongHardness);
  return 1 - (1 - wrongCapacity) * (1 - wrongHardness);
}

/** Probability that gallons which the cycles tell are wrong for the bed and its water. */
function otherWrong(
  { overGallons, upToGallons }: OtherCapacity,
  { capacity, hardness }: SoundSettings,
  asKnown: number,
  rules: SettingMismatchRules,
): number {
  const gallons = {
    low: capacity.low - hardness.high,
    high: capacity.high - hardness.low,
    spread: Math.hypot(capacity.spread, hardness.spread),
  };
  const from = Math.log(Math.max(LEAST_GALLONS, overGallons));
  const to = Math.log(Math.max(LEAST_GALLONS, upToGallons));
  // A control that goes by something else than a record which makes no sense is probably right.
  const { unknownIsWrong } = rules;
  const prior = (1 - asKnown) * unknownIsWrong + asKnown * (1 - unknownIsWrong);
  return wrongProbability(wrongRatioWithin(from, to, gallons, rules.wrongSpread), prior);
}

function wrongProbability(ratio: number, prior: number): number {
  const odds = (prior / (1 - prior)) * ratio;
  return odds / (1 + odds);
}

function meanOf(others: readonly OtherCapacity[]): number {
  return others.reduce((sum, each) => sum + each.probability * middleOf(each), 0) / sumOf(others);
}

function middleOf({ overGallons, upToGallons }: OtherCapacity): number {
  return (overGallons + upToGallons) / 2;
}

function middle({ low, high }: SoundBand): number {
  return (low + high) / 2;
}

function add(weights: Partial<Record<AlertCause, number>>, cause: AlertCause, weight: number) {
  weights[cause] = (weights[cause] ?? 0) + weight;
}
