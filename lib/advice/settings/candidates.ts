import type { Unit } from '../../../shared/registry.ts';
import { setDose } from '../../unit/bed.ts';
import type { UnitState } from '../../unit/state.ts';
import type { SettingMismatchRules } from '../../watch/rules/settingMismatch.ts';
import { isPlainlySound } from '../../watch/soundSettings.ts';
import { settingsFor } from '../settingsFor.ts';
import type { ControlSettings } from './replaySettings.ts';

/** Salt doses that are tried, whole lb a cubic foot of resin. Common practice, no source. */
const DOSES_LB_PER_CUBIC_FOOT = [3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15] as const;
/** A brine control is set to half pounds. Common practice, no source. */
const DOSE_STEP_LB = 0.5;
/** Grains below the right capacity, and gpg above the right hardness: a margin where the reserve is short. */
const CAPACITY_MARGINS = [0, 1000, 2000] as const;
const HARDNESS_MARGINS = [0, 1, 2] as const;
/** Hours at which a house mostly sleeps. Common practice, no source. */
const HOURS = [1, 2, 3, 4] as const;

/** What is set today, as far as is known. */
export function settingsToday({ programmed, bed }: UnitState): ControlSettings {
  const { hardnessGpg, capacityGrains, regenerationHour } = programmed;
  return { saltDoseLb: bed.saltDoseLb, capacityGrains, hardnessGpg, regenerationHour };
}

/**
 * The settings that are tried, today's hour and the least margins first. The capacity never exceeds what the dose gives
 * and the hardness is never below that of the water, and none is there that the watch would call a mismatch afterwards;
 * today's are among them where they are sound in the same sense.
 */
export function candidatesFor(unit: Unit, state: UnitState, rules: SettingMismatchRules): ControlSettings[] {
  const today = settingsToday(state);
  const hour = today.regenerationHour;
  const hours = unit.alternating ? [hour] : [hour, ...HOURS.filter((each) => each !== hour)];
  const candidates: ControlSettings[] = [];
  if (isSoundFor(unit, state, today, rules)) candidates.push(today);
  for (const saltDoseLb of dosesFor(unit.resinCubicFeet)) {
    const right = settingsFor(capacityOf(state, saltDoseLb), state.compensatedHardnessGpg);
    for (const below of CAPACITY_MARGINS) {
      for (const above of HARDNESS_MARGINS) {
        const settings = {
          saltDoseLb,
          capacityGrains: right.capacityGrains - below,
          hardnessGpg: right.hardnessGpg + above,
          regenerationHour: hour,
        };
        if (!isSoundFor(unit, state, settings, rules)) continue;
        for (const regenerationHour of hours) candidates.push({ ...settings, regenerationHour });
      }
    }
  }
  return candidates;
}

/** Doses in lb a regeneration, each once. */
function dosesFor(resinCubicFeet: number): Set<number> {
  return new Set(
    DOSES_LB_PER_CUBIC_FOOT.map((dose) =>
      Math.max(DOSE_STEP_LB, Math.round((dose * resinCubicFeet) / DOSE_STEP_LB) * DOSE_STEP_LB),
    ),
  );
}

function isSoundFor(
  unit: Unit,
  state: UnitState,
  settings: ControlSettings,
  rules: SettingMismatchRules,
): boolean {
  const { saltDoseLb, ...programmed } = settings;
  const bed = { ...state.bed };
  setDose(bed, saltDoseLb);
  return (
    programmed.capacityGrains <= bed.capacityGrains &&
    programmed.hardnessGpg >= state.compensatedHardnessGpg - CRUMB_GPG &&
    isPlainlySound(unit, { ...state, bed, programmed }, rules)
  );
}

/** Conversion from metric units leaves crumbs. */
const CRUMB_GPG = 0.05;

function capacityOf(state: UnitState, saltDoseLb: number): number {
  const bed = { ...state.bed };
  setDose(bed, saltDoseLb);
  return bed.capacityGrains;
}
