import type { Fact } from '../../../shared/facts.ts';
import type { Unit } from '../../../shared/registry.ts';
import type { UnitState } from '../../unit/state.ts';
import type { Episode } from '../../watch/episode.ts';
import type { SettingMismatchRules } from '../../watch/rules/settingMismatch.ts';
import { otherCapacities, sumOf } from '../../watch/settingsInForce.ts';
import { whyImpossible } from '../../watch/soundSettings.ts';
import { DAYS_A_YEAR, type PastUse } from './pastUse.ts';
import { AdviceRefused } from './refusal.ts';

/** How much of a past is enough to advise from. */
export interface HistoryNeeded {
  /** Reported local days. Two months, as a demand model takes to warm up; a guess, no source. */
  readonly reportedDays: number;
  /** Share of the days from the first to the last that may be missing; a guess, no source. */
  readonly missingShare: number;
}

export const HISTORY_NEEDED: HistoryNeeded = { reportedDays: 60, missingShare: 0.25 };

/** A household that draws less, US gallons a day on the mean, is none to advise on. A guess, no source. */
const LEAST_GALLONS_A_DAY = 1;
/** What is more probable than not is in doubt. */
const MORE_THAN_NOT = 0.5;
const HARDNESS_CAUSES: ReadonlySet<string> = new Set(['hardness-too-low', 'hardness-too-high']);

/**
 * The past that settings can be advised from.
 *
 * @throws AdviceRefused `history-too-short`, `too-many-days-missing`, `no-use`
 */
export function enoughPast(use: PastUse | null, needed: HistoryNeeded): PastUse {
  const reported = use ? use.gallons.length - use.missingDays : 0;
  if (!use || reported < needed.reportedDays) {
    throw new AdviceRefused(
      'history-too-short',
      `only ${reported} local days are reported, and advice takes ${needed.reportedDays}`,
      `Ask again in ${needed.reportedDays - reported} reported days.`,
    );
  }
  const days = use.gallons.length;
  if (use.missingDays > needed.missingShare * days) {
    throw new AdviceRefused(
      'too-many-days-missing',
      `${use.missingDays} of the last ${days} local days were not reported`,
      'Mend the reporting (power, network) and ask again when the gaps are a year old, or send late days in.',
    );
  }
  const meanGallons = use.gallons.reduce((sum, gallons) => sum + gallons, 0) / days;
  if (meanGallons < LEAST_GALLONS_A_DAY) {
    throw new AdviceRefused(
      'no-use',
      `the meter registered ${meanGallons.toFixed(1)} gallons a day`,
      'Check whether the house is lived in and the softener in line before its settings are thought of.',
    );
  }
  return use;
}

/**
 * Passes where the meter, what is programmed and the hardness of the water are known well enough to replay, and no leak
 * runs.
 *
 * @throws AdviceRefused `meter-in-doubt`, `leak`, `settings-in-doubt`, `hardness-in-doubt`
 */
export function nothingInDoubt(
  unit: Unit,
  known: { state: UnitState; open: readonly Episode[]; facts: readonly Fact[] },
  rules: SettingMismatchRules,
): void {
  const { state, open, facts } = known;
  const ofMeter = open.find(({ kind }) => kind === 'no-flow' || kind === 'low-registration');
  if (ofMeter) {
    throw new AdviceRefused(
      'meter-in-doubt',
      `a ${ofMeter.kind} alert is open: what the meter counted may not be what was drawn`,
      'Settle that alert first (ask the household, or have the meter seen to).',
    );
  }
  if (open.some(({ kind }) => kind === 'continuous-flow')) {
    throw new AdviceRefused(
      'leak',
      'a continuous-flow alert is open: the use to replay holds a leak',
      'Have the leak found and mended first; that saves more salt than settings do.',
    );
  }
  if (
    state.count.settings === 'lost' ||
    whyImpossible(unit, state, rules) !== null ||
    sumOf(otherCapacities(unit, state, rules)) > MORE_THAN_NOT
  ) {
    throw new AdviceRefused(
      'settings-in-doubt',
      'what is programmed is not known: it was lost, cannot be, or is not what the regenerations go by',
      'Read capacity, hardness and salt dose on the control and record them (a settings event).',
    );
  }
  const mismatch = open.find(
    ({ kind, cause }) => kind === 'setting-mismatch' && cause !== null && HARDNESS_CAUSES.has(cause),
  );
  if (mismatch && !isHardnessMeasured(facts)) {
    throw new AdviceRefused(
      'hardness-in-doubt',
      'programmed hardness and that of the site disagree, and nobody has measured within the year',
      'Test the raw water and record it at a visit (rawHardness).',
    );
  }
}

/** Whether a visit of the last year before the last fact measured the raw water. */
function isHardnessMeasured(facts: readonly Fact[]): boolean {
  const last = facts.reduce((latest, { time }) => Math.max(latest, time), Number.NEGATIVE_INFINITY);
  return facts.some(
    (fact) =>
      fact.kind === 'service-visit' &&
      fact.rawHardnessGpg !== undefined &&
      fact.time > last - DAYS_A_YEAR * 86_400_000,
  );
}
