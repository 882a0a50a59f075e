import {
  GALLONS_PER_CUBIC_METRE,
  GRAMS_PER_GRAIN,
  KG_PER_LB,
  LITRES_PER_GALLON,
  MG_PER_L_CACO3_PER_MMOL_PER_L,
  MG_PER_L_PER_GPG,
} from './units.ts';

/**
 * Quantities as they travel: a number and a UCUM code. This file is the only place where they become the
 * trade's units (US gallons, gallons a minute, pounds, grains, grains a gallon, cubic feet).
 */
export const FACTORS = {
  gallons: { '[gal_us]': 1, L: 1 / LITRES_PER_GALLON, m3: GALLONS_PER_CUBIC_METRE },
  gpm: { '[gal_us]/min': 1, 'L/min': 1 / LITRES_PER_GALLON },
  lb: { '[lb_av]': 1, kg: 1 / KG_PER_LB },
  gpg: {
    '[gr]/[gal_us]': 1,
    'mg/L': 1 / MG_PER_L_PER_GPG,
    'mmol/L': MG_PER_L_CACO3_PER_MMOL_PER_L / MG_PER_L_PER_GPG,
  },
  grains: { '[gr]': 1, g: 1 / GRAMS_PER_GRAIN },
} as const;

/** One side of the edge: what a schema of this file has let through. */
export interface Quantity {
  value: number;
  unit: string;
}

/** US gallons of a volume. */
export const gallonsOf = converter(FACTORS.gallons);
/** US gallons a minute of a flow. */
export const gpmOf = converter(FACTORS.gpm);
/** Pounds of a mass. */
export const lbOf = converter(FACTORS.lb);
/** Grains per US gallon, as CaCO3, of a hardness. */
export const gpgOf = converter(FACTORS.gpg);
/** Grains, as CaCO3, of an exchange capacity. */
export const grainsOf = converter(FACTORS.grains);

function converter(factors: Readonly<Record<string, number>>) {
  return ({ value, unit }: Quantity): number => {
    const factor = factors[unit];
    if (factor === undefined)
      throw new RangeError(`${unit} has no factor here: check the quantity against its schema first`);
    return value * factor;
  };
}
