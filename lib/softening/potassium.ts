import {
  CACO3_GRAMS_PER_EQUIVALENT,
  GRAINS_PER_LB,
  K_GRAMS_PER_MOL,
  KCL_GRAMS_PER_MOL,
} from '../../shared/units.ts';

/** Potassium in KCl, by mass: 0.52445 (computed from the molar masses). */
export const POTASSIUM_MASS_FRACTION = K_GRAMS_PER_MOL / KCL_GRAMS_PER_MOL;

/** Potassium that goes into softened water for each grain of hardness, as CaCO3, that comes out, lb (computed likewise). */
export const POTASSIUM_LB_PER_GRAIN = K_GRAMS_PER_MOL / CACO3_GRAMS_PER_EQUIVALENT / GRAINS_PER_LB;
