import { FE_GRAMS_PER_MOL, MG_PER_L_CACO3_PER_MMOL_PER_L, MG_PER_L_PER_GPG } from '../../shared/units.ts';
import { notNegative } from './errors.ts';

/**
 * Hardness added for each mg/L of iron, gpg. A margin for fouling, for iron goes onto the resin and brine takes
 * only part of it off again. Common practice, no source: 3 to 5, and 2 to 5 occur. Not stoichiometry, which gives
 * about a fortieth of it (`IRON_EQUIVALENT_GPG_PER_MG_PER_L`).
 */
export const DEFAULT_IRON_ALLOWANCE_GPG_PER_MG_PER_L = 4;

/** What 1 mg/L of ferrous iron takes up by chemistry alone: 1.792 mg/L as calcium carbonate, 0.105 gpg (computed). */
export const IRON_EQUIVALENT_GPG_PER_MG_PER_L =
  MG_PER_L_CACO3_PER_MMOL_PER_L / FE_GRAMS_PER_MOL / MG_PER_L_PER_GPG;

/** The water at a site, and the allowance that the trade makes for its iron. */
export interface RawWater {
  readonly hardnessGpg: number;
  readonly ironMgPerL?: number | undefined;
  /** gpg for each mg/L of iron, usually 2 to 5; by default 4. */
  readonly ironAllowanceGpgPerMgPerL?: number | undefined;
}

/**
 * Compensated hardness, gpg: raw hardness plus the allowance for iron. It is what a control is programmed with and
 * what the bed is charged for each gallon. Throws `hardness-`, `iron-` or `iron-allowance-out-of-range` below 0.
 */
export function compensatedHardnessGpg({
  hardnessGpg,
  ironMgPerL = 0,
  ironAllowanceGpgPerMgPerL = DEFAULT_IRON_ALLOWANCE_GPG_PER_MG_PER_L,
}: RawWater): number {
  const raw = notNegative(hardnessGpg, 'hardness, gpg,', 'hardness-out-of-range');
  const iron = notNegative(ironMgPerL, 'iron, mg/L,', 'iron-out-of-range');
  return raw + iron * notNegative(ironAllowanceGpgPerMgPerL, 'iron allowance', 'iron-allowance-out-of-range');
}
