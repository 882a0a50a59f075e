import {
  CACO3_GRAMS_PER_EQUIVALENT,
  GRAINS_PER_LB,
  GRAMS_PER_GRAIN,
  KCL_GRAMS_PER_MOL,
  LITRES_PER_CUBIC_FOOT,
  NACL_GRAMS_PER_MOL,
} from '../../shared/units.ts';
import { notNegative, positive, SofteningError } from './errors.ts';

/** What a bed is regenerated with: sodium chloride or potassium chloride. */
export type Salt = 'NaCl' | 'KCl';

/**
 * The most hardness that a pound of salt can exchange, grains as calcium carbonate: an equivalent for an equivalent,
 * 5,993.9 for NaCl and 4,698.9 for KCl (computed from the molar masses). More than that is a fault in the data.
 */
export const CEILING_GRAINS_PER_LB: Readonly<Record<Salt, number>> = {
  NaCl: (GRAINS_PER_LB * CACO3_GRAMS_PER_EQUIVALENT) / NACL_GRAMS_PER_MOL,
  KCl: (GRAINS_PER_LB * CACO3_GRAMS_PER_EQUIVALENT) / KCL_GRAMS_PER_MOL,
};

/** Pounds of potassium chloride that carry as many equivalents as a pound of sodium chloride: 1.27562 (computed). */
export const KCL_LB_PER_LB_NACL = KCL_GRAMS_PER_MOL / NACL_GRAMS_PER_MOL;

/** Grains a cubic foot of resin holds for each equivalent a litre of it holds: 21,868.8 (computed). */
export const GRAINS_PER_CUBIC_FOOT_PER_EQ_PER_L =
  (LITRES_PER_CUBIC_FOOT * CACO3_GRAMS_PER_EQUIVALENT) / GRAMS_PER_GRAIN;

/**
 * Salt efficiency, grains removed per pound of salt, refused where chemistry forbids it. Throws `salt-out-of-range`
 * unless there is salt, `capacity-out-of-range` below 0 grains, `efficiency-impossible` above the salt's ceiling.
 */
export function checkedEfficiency(grainsRemoved: number, saltLb: number, salt: Salt = 'NaCl'): number {
  const grains = notNegative(grainsRemoved, 'grains removed', 'capacity-out-of-range');
  const grainsPerLb = grains / positive(saltLb, 'salt, lb,', 'salt-out-of-range');
  if (grainsPerLb <= CEILING_GRAINS_PER_LB[salt]) return grainsPerLb;
  throw new SofteningError(
    'efficiency-impossible',
    grainsPerLb,
    `${grainsPerLb} grains per lb of ${salt} is above ${CEILING_GRAINS_PER_LB[salt].toFixed(1)}, the most it can ` +
      'exchange: hardness, gallons or salt is recorded wrongly. Check the three before using the figure.',
  );
}

/** Share of the stoichiometric ceiling that an efficiency in grains per lb reaches, 0 to 1. Throws as `checkedEfficiency`. */
export function shareOfCeiling(grainsPerLb: number, salt: Salt = 'NaCl'): number {
  return checkedEfficiency(grainsPerLb, 1, salt) / CEILING_GRAINS_PER_LB[salt];
}
