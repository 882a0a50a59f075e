import type { Unit } from '../../../shared/registry.ts';
import { bedCapacityGrains } from '../../softening/capacity.ts';
import type { Salt } from '../../softening/stoichiometry.ts';
import type { UnitState } from '../../unit/state.ts';
import type { SettingMismatchRules } from '../../watch/rules/settingMismatch.ts';
import { isPlainlySound } from '../../watch/soundSettings.ts';
import type { ControlSettings, ReserveRule } from '../settings/replaySettings.ts';
import { settingsFor } from '../settingsFor.ts';

/** What the controls of a region are imagined to be set to. What is left out stays as it is. */
export interface Imagined {
  /** Every dose so many lb a cubic foot, and the capacity and hardness that go with it. */
  readonly doseLbPerCubicFoot?: number | undefined;
  /** Every dose as it is; where capacity and hardness do not go with it and the water, they are made to. */
  readonly corrected?: boolean | undefined;
  /** Held back each morning: what the household's forecast says, instead of the mean of the last seven days. */
  readonly reserve?: 'forecast' | undefined;
  /** Regenerated with so many equivalents of it as of sodium chloride today. */
  readonly salt?: Salt | undefined;
}

/** The doses between which the capacity curve holds, lb a cubic foot. */
export const DOSE_RANGE = { least: 3, most: 15 } as const;

/**
 * What is programmed lies so much below what the curve gives. Companies round a capacity down to whole thousands: 500
 * grains on the average, of the 20,000 of a cubic foot at 6 lb. A fleet is given the average: were each of its units
 * rounded, a dose a hair below 6 lb would come with twice the margin of one a hair above. Common practice, no source.
 */
const CAPACITY_MARGIN = 0.025;

/** Whether that can be imagined at once: settings that go with one dose leave none to be corrected. */
export function goTogether({ doseLbPerCubicFoot, corrected }: Imagined): boolean {
  return doseLbPerCubicFoot === undefined || !corrected;
}

/** What a unit's control would be set to, with the fixed {@link CAPACITY_MARGIN}. */
export function settingsImagined(
  unit: Unit,
  state: UnitState,
  { doseLbPerCubicFoot, corrected }: Imagined,
  rules: SettingMismatchRules,
  today: ControlSettings,
): ControlSettings {
  const { resinCubicFeet } = unit;
  if (doseLbPerCubicFoot === undefined && !(corrected && !isPlainlySound(unit, state, rules))) return today;
  const saltDoseLb =
    doseLbPerCubicFoot === undefined ? today.saltDoseLb : doseLbPerCubicFoot * resinCubicFeet;
  const curveGrains = bedCapacityGrains({ resinCubicFeet, saltDoseLb });
  const { hardnessGpg } = settingsFor(curveGrains, state.compensatedHardnessGpg);
  return { ...today, saltDoseLb, capacityGrains: (1 - CAPACITY_MARGIN) * curveGrains, hardnessGpg };
}

/** What a unit's control would hold back. */
export function reserveImagined({ reserve }: Imagined): ReserveRule {
  return { kind: reserve ?? 'seven-day-mean' };
}
