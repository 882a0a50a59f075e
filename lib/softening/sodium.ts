import {
  CACO3_GRAMS_PER_EQUIVALENT,
  GRAINS_PER_LB,
  K_GRAMS_PER_MOL,
  LITRES_PER_GALLON,
  MG_PER_L_PER_GPG,
  NA_GRAMS_PER_MOL,
  NACL_GRAMS_PER_MOL,
} from '../../shared/units.ts';
import { notNegative } from './errors.ts';
import type { Sourced } from './sourced.ts';
import type { Salt } from './stoichiometry.ts';

/** Sodium in NaCl, by mass: 0.39337 (computed from the molar masses). */
export const SODIUM_MASS_FRACTION = NA_GRAMS_PER_MOL / NACL_GRAMS_PER_MOL;

/** Sodium that goes into softened water for each grain of hardness, as CaCO3, that comes out, lb (computed likewise). */
export const SODIUM_LB_PER_GRAIN = NA_GRAMS_PER_MOL / CACO3_GRAMS_PER_EQUIVALENT / GRAINS_PER_LB;

/**
 * What softening adds to the water for each gpg of hardness it removes, mg/L: 7.864 of sodium when regenerated with
 * NaCl, 13.374 of potassium with KCl. An equivalent for an equivalent (computed from the molar masses).
 */
export const ADDED_MG_PER_L_PER_GPG: Readonly<Record<Salt, number>> = {
  NaCl: (NA_GRAMS_PER_MOL / CACO3_GRAMS_PER_EQUIVALENT) * MG_PER_L_PER_GPG,
  KCl: (K_GRAMS_PER_MOL / CACO3_GRAMS_PER_EQUIVALENT) * MG_PER_L_PER_GPG,
};

/** Sodium (NaCl) or potassium (KCl) added to softened water, mg/L. Throws `hardness-out-of-range` below 0. */
export function addedMgPerL(hardnessRemovedGpg: number, salt: Salt = 'NaCl'): number {
  const removed = notNegative(hardnessRemovedGpg, 'hardness removed, gpg,', 'hardness-out-of-range');
  return removed * ADDED_MG_PER_L_PER_GPG[salt];
}

/** Milligrams in a glass of 8 US fluid ounces, a sixteenth of a gallon. Throws `concentration-out-of-range` below 0. */
export function mgPerGlass(mgPerL: number): number {
  const concentration = notNegative(mgPerL, 'concentration, mg/L,', 'concentration-out-of-range');
  return concentration * (LITRES_PER_GALLON / 16);
}

/** A level of sodium in drinking water that is worth knowing, mg/L. */
export interface SodiumLevel extends Sourced {
  readonly fromMgPerL: number;
  readonly meaning: string;
}

const EPA = { source: 'US EPA Q&A, citing EPA 822-R-03-006', basis: 'read in the source' } as const;

/** Published levels of sodium, lowest first. Of all the sodium in the water, not only what softening adds. */
export const SODIUM_LEVELS: readonly SodiumLevel[] = [
  { fromMgPerL: 20, meaning: 'guidance for people held to 500 mg of sodium a day, not for everyone', ...EPA },
  { fromMgPerL: 30, meaning: 'from 30 to 60 mg/L some people begin to taste it', ...EPA },
];

/** To be shown with any figure of sodium or potassium: the figures are chemistry, the ruling is a physician's. */
export const PHYSICIAN_NOTE: Readonly<Record<Salt, string>> = {
  NaCl: 'This is the sodium that softening adds, by calculation. If your sodium is restricted, ask your physician.',
  KCl:
    'This is the potassium that softening adds, by calculation. With a condition or medicine that raises ' +
    'potassium, ask your physician before you drink it or cook with it.',
};
