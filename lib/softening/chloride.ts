import {
  CL_GRAMS_PER_MOL,
  KCL_GRAMS_PER_MOL,
  KG_PER_LB,
  LITRES_PER_GALLON,
  NACL_GRAMS_PER_MOL,
} from '../../shared/units.ts';
import { notNegative, positive } from './errors.ts';
import type { Sourced } from './sourced.ts';
import { checkedEfficiency, type Salt } from './stoichiometry.ts';

/** Chloride in a salt, by mass: 0.60663 of NaCl, 0.47555 of KCl (computed from the molar masses). */
export const CHLORIDE_MASS_FRACTION: Readonly<Record<Salt, number>> = {
  NaCl: CL_GRAMS_PER_MOL / NACL_GRAMS_PER_MOL,
  KCl: CL_GRAMS_PER_MOL / KCL_GRAMS_PER_MOL,
};

/** Chloride that salt sends to the drain, lb: all of it, for a softener keeps none. Throws `salt-out-of-range` below 0. */
export function chlorideLb(saltLb: number, salt: Salt = 'NaCl'): number {
  return notNegative(saltLb, 'salt, lb,', 'salt-out-of-range') * CHLORIDE_MASS_FRACTION[salt];
}

/** Water softened, and the salt efficiency it is softened at. */
export interface SoftenedWater {
  readonly hardnessGpg: number;
  readonly grainsPerLb: number;
  readonly salt?: Salt;
}

/**
 * Chloride that softening puts into sewage, mg/L, spread over all the water softened: at 4,000 grains per lb of
 * NaCl 18.17 for each gpg. What the water brought is not in it. Throws `hardness-out-of-range` below 0,
 * `efficiency-out-of-range` unless above 0, `efficiency-impossible` above the salt's ceiling.
 */
export function chlorideMgPerL({ hardnessGpg, grainsPerLb, salt = 'NaCl' }: SoftenedWater): number {
  const hardness = notNegative(hardnessGpg, 'hardness, gpg,', 'hardness-out-of-range');
  const efficiency = positive(grainsPerLb, 'efficiency, grains per lb,', 'efficiency-out-of-range');
  const saltLbPerGallon = hardness / checkedEfficiency(efficiency, 1, salt);
  return (chlorideLb(saltLbPerGallon, salt) * KG_PER_LB * 1e6) / LITRES_PER_GALLON;
}

/** A published limit on chloride in water, mg/L. */
export interface ChlorideCriterion extends Sourced {
  readonly mgPerL: number;
  readonly protects: string;
  /** Hours over which the concentration is averaged; absent where none is given. */
  readonly averagedOverHours?: number;
}

const EPA = {
  source: 'EPA 440/5-88-001, not to be exceeded more than once in three years',
  basis: 'from memory, unverified',
} as const;
const MINNESOTA = {
  source: 'Minn. R. 7050, by the MPCA metropolitan chloride TMDL page',
  basis: 'read in the source',
} as const;

/** Published limits on chloride. They are for the water body or the tap, not for a drain. */
export const CHLORIDE_CRITERIA: readonly ChlorideCriterion[] = [
  { mgPerL: 230, protects: 'aquatic life, chronic', averagedOverHours: 96, ...EPA },
  { mgPerL: 860, protects: 'aquatic life, acute', averagedOverHours: 1, ...EPA },
  { mgPerL: 230, protects: 'aquatic life in Minnesota, chronic', averagedOverHours: 96, ...MINNESOTA },
  { mgPerL: 860, protects: 'aquatic life in Minnesota, acute', averagedOverHours: 24, ...MINNESOTA },
  { mgPerL: 250, protects: 'industrial use in Minnesota', ...MINNESOTA },
  {
    mgPerL: 250,
    protects: 'taste of drinking water (secondary level)',
    source: '40 CFR 143.3',
    basis: 'read in the source',
  },
];
