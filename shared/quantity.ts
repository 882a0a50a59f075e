import * as z from 'zod';
import { keysOf } from './records.ts';
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
const FACTORS = {
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

const LARGEST = 1e300;

/** One side of the edge: what a schema of this file has let through. */
export interface Quantity {
  value: number;
  unit: string;
}

/** A volume, never negative: water is counted, not measured against a zero. */
export const volumeSchema = quantity(FACTORS.gallons, z.number().min(0));
export const flowSchema = quantity(FACTORS.gpm, z.number().min(0));
/** A mass as a level sensor reads it: its noise may carry it below zero. */
export const massReadingSchema = quantity(FACTORS.lb, z.number());
export const massSchema = quantity(FACTORS.lb, z.number().min(0));
export const hardnessSchema = quantity(FACTORS.gpg, z.number().min(0));
export const capacitySchema = quantity(FACTORS.grains, z.number().min(0));

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

function quantity<Factors extends Record<string, number>>(factors: Factors, value: z.ZodNumber) {
  // What is too large for a double in the trade's units is no quantity of water or salt.
  const bounded = value.min(Math.max(value.minValue ?? -LARGEST, -LARGEST)).max(LARGEST);
  return z.object({ value: bounded, unit: z.enum(keysOf(factors)) });
}

function converter(factors: Readonly<Record<string, number>>) {
  return ({ value, unit }: Quantity): number => {
    const factor = factors[unit];
    if (factor === undefined)
      throw new RangeError(`${unit} has no factor here: check the quantity against its schema first`);
    return value * factor;
  };
}
