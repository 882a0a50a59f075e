import { KG_PER_LB, LITRES_PER_GALLON } from '../../shared/units.ts';
import { notNegative, SofteningError } from './errors.ts';

/** Salt in saturated brine at 60 F, by mass. Source: "The Salometer and How to Use It", salt-industry guide (read). */
const SATURATED_SALT_FRACTION = 0.26395;

/** Specific gravity of saturated brine at 60 F: from memory, unverified. */
const SATURATED_SPECIFIC_GRAVITY = 1.203;

/** Water at 60 F: 0.999 kg/L (from memory, unverified), so 8.337 lb/gal. */
const WATER_LB_PER_GALLON = (0.999 * LITRES_PER_GALLON) / KG_PER_LB;

/** Saturated brine at 60 F: 10.03 lb/gal. */
export const BRINE_LB_PER_GALLON = SATURATED_SPECIFIC_GRAVITY * WATER_LB_PER_GALLON;

/** Salt in a gallon of saturated brine: 2.65 lb (often rounded to 2.6). */
export const SALT_LB_PER_GALLON_OF_BRINE = BRINE_LB_PER_GALLON * SATURATED_SALT_FRACTION;

/** Salt that a gallon of water added to the tank dissolves: 2.99 lb. */
export const SALT_LB_PER_GALLON_OF_WATER =
  (WATER_LB_PER_GALLON * SATURATED_SALT_FRACTION) / (1 - SATURATED_SALT_FRACTION);

/** Saturated brine that a gallon of water added to the tank becomes: 1.13 gal. */
export const BRINE_GALLONS_PER_GALLON_OF_WATER = SALT_LB_PER_GALLON_OF_WATER / SALT_LB_PER_GALLON_OF_BRINE;

/** Gallons of water to fill the tank with so that it dissolves a dose, lb. Throws `salt-out-of-range` below 0. */
export function fillGallonsForDose(saltLb: number): number {
  return notNegative(saltLb, 'salt, lb,', 'salt-out-of-range') / SALT_LB_PER_GALLON_OF_WATER;
}

/** Gallons of saturated brine that carry a dose, lb. Throws `salt-out-of-range` below 0. */
export function brineGallonsForDose(saltLb: number): number {
  return notNegative(saltLb, 'salt, lb,', 'salt-out-of-range') / SALT_LB_PER_GALLON_OF_BRINE;
}

/**
 * The most salt that gallons of brine carry, lb: that of saturated brine. What was drawn may be weaker, or plain
 * water where the tank is empty or bridged. Throws `volume-out-of-range` below 0.
 */
export function saltLbInSaturatedBrine(brineGallons: number): number {
  return notNegative(brineGallons, 'brine, gal,', 'volume-out-of-range') * SALT_LB_PER_GALLON_OF_BRINE;
}

/**
 * Salt in brine, percent by mass, from a salometer reading at 60 F: degrees are percent of saturation. (A canning
 * scale whose 100 is 25 % exists; this is not it.) Throws `salometer-out-of-range` unless 0 <= degrees <= 100.
 */
export function saltPercentFromSalometer(degrees: number): number {
  if (degrees >= 0 && degrees <= 100) return degrees * SATURATED_SALT_FRACTION;
  throw new SofteningError(
    'salometer-out-of-range',
    degrees,
    `a salometer reads 0 to 100, not ${degrees}. Read it again at 60 F.`,
  );
}
