import type { Unit } from '../../../shared/registry.ts';
import type { LocalDate } from '../../../shared/time/localDate.ts';
import type { Salt } from '../../softening/stoichiometry.ts';
import type { UnitState } from '../../unit/state.ts';
import type { SettingMismatchRules } from '../../watch/rules/settingMismatch.ts';
import { settingsToday } from '../settings/candidates.ts';
import type { Replay } from '../settings/outcome.ts';
import { DAYS_A_YEAR } from '../settings/pastUse.ts';
import {
  type ControlSettings,
  type ReplayedSettings,
  type ReserveRule,
  replaySettings,
} from '../settings/replaySettings.ts';
import { countedByPart } from './countedByPart.ts';
import { type Imagined, reserveImagined, settingsImagined } from './imagined.ts';
import { type Counted, type Year, yearOf } from './year.ts';
import { between, NODES, type ReplayedYears, tiltAt, type YearAhead, yearAhead } from './yearAhead.ts';

/** The local days that were replayed: the first and the last, and how many that is. */
export interface ReplayedDays {
  readonly from: LocalDate;
  readonly to: LocalDate;
  readonly days: number;
}

/** A unit's year under two settings. Salt is by the doses on record. */
export interface UnitWhatIf {
  readonly replayed: ReplayedDays;
  /** Salt of a regeneration, lb: imagined less today. */
  readonly doseChangeLb: number;
  /** As its own past has it, by the rate of the days replayed. */
  readonly past: { readonly today: Year; readonly imagined: Year };
  /** A year to come by that past: as it is set today, as it is imagined, and imagined less today. */
  readonly ahead: Readonly<Record<Side, YearAhead>>;
}

/** What is told of: both settings, and what lies between them. */
export const SIDES = ['today', 'imagined', 'difference'] as const;

export type Side = (typeof SIDES)[number];

/** Parts by which days are compared: of four weeks each, so that all have as many Sundays, and a year 13 of them. */
const PART_DAYS = 28;

/**
 * A unit's year by its own past, as its control is set today and as it is imagined, both replayed over the same days.
 *
 * @param replay its past: `pastReplay` refuses one that does not tell
 */
export function unitWhatIf(
  unit: Unit,
  { state, replay }: { state: UnitState; replay: Replay },
  imagined: Imagined,
  rules: SettingMismatchRules,
): UnitWhatIf {
  const settings = settingsToday(state);
  const then = settingsImagined(unit, state, imagined, rules, settings);
  const reserve = reserveImagined(imagined);
  const courses = (of: ControlSettings, rule?: ReserveRule) =>
    coursesOf({ replay, rawHardnessGpg: state.rawHardnessGpg }, of, rule, rules.capacitySpread);
  const { from, to, gallons } = replay.use;
  const before = courses(settings);
  const isSame = then === settings && reserve.kind === 'seven-day-mean';
  const today = yearsOf(before, 'NaCl');
  const after = yearsOf(isSame ? before : courses(then, reserve), imagined.salt ?? 'NaCl');
  return {
    replayed: { from, to, days: gallons.length },
    doseChangeLb: then.saltDoseLb - settings.saltDoseLb,
    past: { today: today.past, imagined: after.past },
    ahead: { today: yearAhead(today), imagined: yearAhead(after), difference: between(today, after) },
  };
}

/** What replays of some settings count: over the past as it was, in its parts, and by each of the nodes. */
interface Courses {
  readonly days: number;
  readonly parts: readonly Counted[];
  readonly byNode: readonly Counted[];
  readonly tilt: number;
}

/** @param spread of what the bed gives about what the curve says, as a share of it */
function coursesOf(
  { replay, rawHardnessGpg }: { replay: Replay; rawHardnessGpg: number },
  settings: ControlSettings,
  reserve: ReserveRule | undefined,
  spread: number,
): Courses {
  const days = replay.use.gallons.length;
  const whole = (replayed: ReplayedSettings) => {
    const [counted] = countedByPart({ replay, settings, replayed, rawHardnessGpg }, 1);
    return scaled(counted, DAYS_A_YEAR / days);
  };
  const replayedAt = (deviations: number) => {
    // A bed that gives less runs out as one does whose water is harder.
    const compensatedHardnessGpg = replay.site.compensatedHardnessGpg * Math.exp(-spread * deviations);
    return replaySettings({ ...replay.site, compensatedHardnessGpg }, replay.use, settings, reserve);
  };
  const asItWas = replayedAt(0);
  return {
    days,
    parts: countedByPart(
      { replay, settings, replayed: asItWas, rawHardnessGpg },
      Math.max(1, Math.round(days / PART_DAYS)),
    ),
    byNode: NODES.map(({ deviations }) => whole(deviations === 0 ? asItWas : replayedAt(deviations))),
    tilt: tiltAt(settings.saltDoseLb / replay.site.resinCubicFeet) / spread,
  };
}

function yearsOf(
  { days, parts, byNode, tilt }: Courses,
  salt: Salt,
): ReplayedYears & { readonly past: Year } {
  const [asItWas, ...others] = byNode.map((counted) => yearOf(counted, salt));
  if (!asItWas) throw new RangeError('there is always a node');
  return {
    days,
    parts: parts.map((counted) => yearOf(counted, salt)),
    byNode: [asItWas, ...others],
    tilt,
    past: asItWas,
  };
}

function scaled(counted: Counted | undefined, factor: number): Counted {
  return {
    doseLb: (counted?.doseLb ?? 0) * factor,
    waterGallons: (counted?.waterGallons ?? 0) * factor,
    hardDays: (counted?.hardDays ?? 0) * factor,
    grainsRemoved: (counted?.grainsRemoved ?? 0) * factor,
  };
}
