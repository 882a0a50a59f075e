import type { Unit } from '../../../shared/registry.ts';
import type { LocalDate } from '../../../shared/time/localDate.ts';
import type { SettingMismatchRules } from '../../watch/rules/settingMismatch.ts';
import { candidatesFor, settingsToday } from './candidates.ts';
import { choose, frontier, keepsWithin } from './choose.ts';
import type { HistoryNeeded } from './doubt.ts';
import {
  efficiencyOf,
  type Outcome,
  type OutcomeEfficiency,
  outcomeOf,
  type Replay,
  ratedOf,
} from './outcome.ts';
import { type KnownUnit, pastReplay } from './pastReplay.ts';
import { AdviceRefused } from './refusal.ts';
import type { ReserveRule } from './replaySettings.ts';

/** What the advice goes by. */
export interface AdviceOptions {
  /** Hard-water days a year that the household is to have at the most. */
  readonly mostHardDays: number;
  readonly rules: SettingMismatchRules;
  readonly needed?: HistoryNeeded | undefined;
}

/** Which settings to choose for a unit, and why. Amounts are a year's, by the rate of the days replayed. */
export interface SettingsAdvice {
  readonly unitId: string;
  readonly mostHardDays: number;
  /** The local days that were replayed: those missing got expected use. Regenerations are those that were reported. */
  readonly history: {
    readonly from: LocalDate;
    readonly to: LocalDate;
    readonly days: number;
    readonly missingDays: number;
    readonly regenerations: number;
    /** Whether the water of a regeneration is as reported; else it is assumed. */
    readonly waterReported: boolean;
    /** Days after which its control regenerates whatever was used, as its reports tell; null where they do not. */
    readonly calendarDays: number | null;
  };
  readonly today: Outcome & OutcomeEfficiency;
  readonly advised: Outcome & OutcomeEfficiency;
  /**
   * The settings of least salt that keep within the limit and meet both figures of NSF/ANSI 44; null where none do. Little
   * salt and often takes more water.
   */
  readonly efficient: (Outcome & OutcomeEfficiency) | null;
  /** Whether the advised settings keep within the limit; false where none do, and then they come nearest. */
  readonly withinLimit: boolean;
  /** What advised settings save a year against today's; negative where they cost. */
  readonly saves: { readonly saltLb: number; readonly waterGallons: number; readonly hardDays: number };
  /** All that were tried, and those of them that no other beats in salt, water and hard-water days at once. */
  readonly tried: readonly Outcome[];
  readonly frontier: readonly Outcome[];
  /** What the best settings would be if the control held back its reserve by another rule. */
  readonly whatIf: readonly { readonly reserve: ReserveRule; readonly outcome: Outcome }[];
}

/** Fixed shares of the programmed capacity that are tried as reserves. Common practice, no source. */
const WHAT_IF: readonly ReserveRule[] = [
  { kind: 'share', share: 0.1 },
  { kind: 'share', share: 0.2 },
  { kind: 'share', share: 0.3 },
  { kind: 'forecast' },
];

/**
 * Advises the settings of least salt that keep hard-water days within a limit, by replaying the unit's own past year
 * under many: the control's rule and the bed are those of the unit's fold. Each replay begins with a fresh bed that
 * holds what the capacity curve gives for the dose.
 *
 * @param known the unit's state, its open episodes, and the facts that stand
 * @throws AdviceRefused where the past is too short or in doubt
 */
export function settingsAdvice(unit: Unit, known: KnownUnit, options: AdviceOptions): SettingsAdvice {
  const { state } = known;
  const { mostHardDays, rules, needed } = options;
  const { replay, regenerations, calendarDays } = pastReplay(unit, known, { rules, needed });
  const { use } = replay;
  const { alternating } = unit;
  const candidates = candidatesFor(unit, state, rules);
  const tried = candidates.map((settings) => outcomeOf(replay, settings));
  const advised = choose(tried, mostHardDays);
  if (!advised) {
    throw new AdviceRefused(
      'settings-in-doubt',
      'no dose of the usual ones gives this resin a capacity that could be programmed',
      'Check the resin volume and the hardness on record.',
    );
  }
  const today = outcomeOf(replay, settingsToday(state));
  const withEfficiency = (outcome: Outcome) => ({
    ...outcome,
    ...efficiencyOf(replay, outcome, state.rawHardnessGpg),
  });
  const efficient = tried.filter(
    (outcome) =>
      keepsWithin(outcome, mostHardDays) &&
      ratedOf(replay, outcome.settings).rules.every(
        ({ rule, verdict }) => rule.id !== 'nsf-ansi-44' || verdict === 'met',
      ),
  );
  const bestEfficient = choose(efficient, mostHardDays);
  const ownHour = candidates.filter(
    ({ regenerationHour }) => regenerationHour === state.programmed.regenerationHour,
  );
  return {
    unitId: unit.unitId,
    mostHardDays,
    history: {
      from: use.from,
      to: use.to,
      days: use.gallons.length,
      missingDays: use.missingDays,
      regenerations,
      waterReported: replay.water.isReported,
      calendarDays: calendarDays ?? null,
    },
    today: withEfficiency(today),
    advised: withEfficiency(advised),
    efficient: bestEfficient ? withEfficiency(bestEfficient) : null,
    withinLimit: keepsWithin(advised, mostHardDays),
    saves: {
      saltLb: today.saltLbAYear - advised.saltLbAYear,
      waterGallons: today.waterGallonsAYear - advised.waterGallonsAYear,
      hardDays: today.hardDaysAYear - advised.hardDaysAYear,
    },
    tried,
    frontier: frontier(tried),
    // Two beds that take turns hold back nothing, by whatever rule.
    whatIf: alternating
      ? []
      : WHAT_IF.flatMap((reserve) => bestUnder(replay, ownHour, reserve, mostHardDays)),
  };
}

function bestUnder(
  replay: Replay,
  candidates: readonly Outcome['settings'][],
  reserve: ReserveRule,
  mostHardDays: number,
) {
  const outcome = choose(
    candidates.map((settings) => outcomeOf(replay, settings, reserve)),
    mostHardDays,
  );
  return outcome ? [{ reserve, outcome }] : [];
}
