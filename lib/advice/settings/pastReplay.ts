import type { Fact } from '../../../shared/facts.ts';
import type { Unit } from '../../../shared/registry.ts';
import type { UnitState } from '../../unit/state.ts';
import type { Episode } from '../../watch/episode.ts';
import type { SettingMismatchRules } from '../../watch/rules/settingMismatch.ts';
import { enoughPast, HISTORY_NEEDED, type HistoryNeeded, nothingInDoubt } from './doubt.ts';
import type { Replay } from './outcome.ts';
import { calendarDaysOf, pastRegenerations } from './pastRegenerations.ts';
import { pastUse } from './pastUse.ts';
import { regenerationWater } from './regenerationWater.ts';

/** What is known of a unit: its state, its open episodes, and the facts that stand. */
export interface KnownUnit {
  readonly state: UnitState;
  readonly open: readonly Episode[];
  readonly facts: readonly Fact[];
}

export interface PastReplay {
  readonly replay: Replay;
  readonly regenerations: number;
  readonly calendarDays: number | undefined;
}

/**
 * A unit's own past year, made ready to be replayed under other settings.
 *
 * @throws AdviceRefused where the past is too short or in doubt
 */
export function pastReplay(
  unit: Unit,
  known: KnownUnit,
  { rules, needed = HISTORY_NEEDED }: { rules: SettingMismatchRules; needed?: HistoryNeeded | undefined },
): PastReplay {
  const { state, facts } = known;
  nothingInDoubt(unit, known, rules);
  const use = enoughPast(pastUse(facts), needed);
  const regenerations = pastRegenerations(facts, unit.zone, use);
  const calendarDays = calendarDaysOf(regenerations, unit.zone);
  const { resinCubicFeet, alternating } = unit;
  const { compensatedHardnessGpg } = state;
  return {
    replay: {
      site: { resinCubicFeet, alternating, compensatedHardnessGpg, calendarDays },
      use,
      water: regenerationWater(regenerations, state.bed.saltDoseLb, resinCubicFeet),
    },
    regenerations: regenerations.length,
    calendarDays,
  };
}
