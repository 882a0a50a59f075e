import type { Unit } from '../../shared/registry.ts';
import { MAX_DOSE_LB_PER_CUBIC_FOOT } from '../softening/capacity.ts';
import { CEILING_GRAINS_PER_LB, GRAINS_PER_CUBIC_FOOT_PER_EQ_PER_L } from '../softening/stoichiometry.ts';
import type { UnitState } from '../unit/state.ts';
import type { SettingMismatchRules } from './rules/settingMismatch.ts';
import type { SoundBand } from './soundBand.ts';

/** Where the settings of careful companies lie for a unit, by their logarithms. */
export interface SoundSettings {
  readonly capacity: SoundBand;
  readonly hardness: SoundBand;
}

/** Why a setting cannot be. */
export type Impossible = 'no-capacity' | 'more-than-salt' | 'more-than-resin' | 'hardness' | 'dose';

/** A company rounds a capacity down to a thousand. Common practice, no source. */
const ROUNDING_GRAINS = 1000;
/** Total capacity of new 8 % gel resin: 1.9 to 2.0 eq/L (handbook range, from memory, unverified). */
const TOTAL_EQ_PER_L = 2;
/** Rounding and conversion. */
const CRUMB = 1.01;
/** Softer water is not softened; gpg. */
const SOFTEST_GPG = 0.5;

/** The capacity that the dose gives, by whatever table, and the hardness of the site, whatever is added for iron. */
export function soundSettings(unit: Unit, state: UnitState, rules: SettingMismatchRules): SoundSettings {
  const { capacityGrains } = state.bed;
  const { least, most } = hardnessRange(unit, state, rules);
  return {
    capacity: {
      low: Math.log(capacityGrains * (1 - roundingShare(capacityGrains)) * (1 - rules.capacityBelow)),
      high: Math.log(capacityGrains * (1 + rules.capacityAbove)),
      spread: rules.capacitySpread,
    },
    hardness: {
      low: Math.log(least),
      high: Math.log(most),
      spread: Math.hypot(rules.hardnessSpread, rules.hardnessSpreadGpg / least),
    },
  };
}

/** Whether the known settings lie where sound ones do, by any company's habits: quick, since mostly they do. */
export function isPlainlySound(unit: Unit, state: UnitState, rules: SettingMismatchRules): boolean {
  const { programmed, bed } = state;
  const { least, most } = hardnessRange(unit, state, rules);
  const share = programmed.capacityGrains / bed.capacityGrains;
  return (
    programmed.hardnessGpg >= least &&
    programmed.hardnessGpg <= most &&
    share <= 1 + rules.capacityAbove &&
    share >= (1 - roundingShare(bed.capacityGrains)) * (1 - rules.capacityBelow)
  );
}

/** The softest and the hardest that the water of the site may rightly be taken for, gpg. */
function hardnessRange(unit: Unit, state: UnitState, rules: SettingMismatchRules) {
  const { rawHardnessGpg: raw, compensatedHardnessGpg: compensated } = state;
  const { ironMgPerL } = unit;
  return {
    least: Math.max(SOFTEST_GPG, Math.min(compensated, raw + rules.leastIronAllowance * ironMgPerL)),
    most: Math.max(compensated, raw + rules.mostIronAllowance * ironMgPerL) + rules.roundedUpGpg,
  };
}

/** What rounding down may take. */
function roundingShare(capacityGrains: number): number {
  return Math.min(0.5, ROUNDING_GRAINS / capacityGrains);
}

/** Why the settings of a unit cannot be; null where they can. */
export function whyImpossible(
  unit: Unit,
  { programmed, bed }: UnitState,
  rules: SettingMismatchRules,
): Impossible | null {
  const { hardnessGpg, capacityGrains } = programmed;
  const { resinCubicFeet } = unit;
  if (hardnessGpg <= 0 || hardnessGpg > rules.mostHardnessGpg) return 'hardness';
  if (capacityGrains <= 0) return 'no-capacity';
  if (bed.saltDoseLb > CRUMB * MAX_DOSE_LB_PER_CUBIC_FOOT * resinCubicFeet) return 'dose';
  if (capacityGrains > CRUMB * CEILING_GRAINS_PER_LB.NaCl * bed.saltDoseLb) return 'more-than-salt';
  const total = TOTAL_EQ_PER_L * GRAINS_PER_CUBIC_FOOT_PER_EQ_PER_L * resinCubicFeet;
  return capacityGrains > CRUMB * total ? 'more-than-resin' : null;
}
