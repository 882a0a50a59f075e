import { GALLONS_PER_CUBIC_METRE, GRAMS_PER_GRAIN, KG_PER_LB } from '../../../shared/units.ts';
import type { UnitSystem } from '../../brief/inUnits.ts';
import type { Estimate } from '../../estimate/estimate.ts';
import { inSteps, LEAST_PART, roundedEstimate, stepOfPart, stepOfSum } from '../rounding.ts';

/** A kind of quantity in the units that somebody likes. */
export interface Quantity {
  readonly unit: string;
  /** What one of its US unit is in it: a pound, a US gallon, a grain a pound. */
  readonly factor: number;
}

export interface Quantities {
  readonly mass: Quantity;
  readonly volume: Quantity;
  /** Hardness removed for the salt used. */
  readonly efficiency: Quantity;
}

const US: Quantities = {
  mass: { unit: 'lb', factor: 1 },
  volume: { unit: 'gal', factor: 1 },
  efficiency: { unit: 'grains/lb', factor: 1 },
};

const METRIC: Quantities = {
  mass: { unit: 'kg', factor: KG_PER_LB },
  volume: { unit: 'm³', factor: 1 / GALLONS_PER_CUBIC_METRE },
  efficiency: { unit: 'g/kg', factor: GRAMS_PER_GRAIN / KG_PER_LB },
};

export function quantitiesIn(system: UnitSystem): Quantities {
  return system === 'us' ? US : METRIC;
}

/** An estimate in words, rounded as far as its interval goes. */
export interface Rounded {
  /** Without its unit. */
  readonly value: string;
  /** Its 80 % interval, without the unit; null where none was worked out. */
  readonly range: string | null;
}

/** Rounds an estimate, of US units, in the units of a quantity. */
export function roundedOf(estimate: Estimate, quantity: Quantity): Rounded {
  const [value, low, high] = [estimate.value, estimate.low, estimate.high].map(
    (each) => each * quantity.factor,
  );
  if (value === undefined || low === undefined || high === undefined)
    throw new RangeError('an estimate has three figures');
  const { range, step } = roundedEstimate({ value, low, high });
  return {
    value: inSteps(value, step),
    range: range && `${inSteps(range.low, step)} to ${inSteps(range.high, step)}`,
  };
}

/** A part of what was estimated, or what a rule of thumb gives, by its own size; with its unit. */
export function partOf(us: number, { factor, unit }: Quantity): string {
  const part = us * factor;
  return part > 0 && part < LEAST_PART
    ? `<${inSteps(LEAST_PART, LEAST_PART)} ${unit}`
    : `${inSteps(part, stepOfPart(part))} ${unit}`;
}

/** A metered sum without an interval, with its unit. */
export function sumOf(us: number, { factor, unit }: Quantity): string {
  return `${inSteps(us * factor, stepOfSum(us * factor))} ${unit}`;
}
