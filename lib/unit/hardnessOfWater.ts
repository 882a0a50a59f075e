import { compensatedHardnessGpg } from '../softening/iron.ts';
import type { FoldRules } from './foldRules.ts';

/** Water without any hardness would never exhaust a bed; a tenth of a grain keeps what is left a number of gallons. */
const SOFTEST_GPG = 0.1;

/** What each gallon of a site's water takes from the bed, gpg. */
export function hardnessOfWater(rawGpg: number, ironMgPerL: number, rules: FoldRules): number {
  const { ironAllowanceGpgPerMgPerL } = rules;
  const compensated = compensatedHardnessGpg({ hardnessGpg: rawGpg, ironMgPerL, ironAllowanceGpgPerMgPerL });
  return Math.max(SOFTEST_GPG, compensated);
}
