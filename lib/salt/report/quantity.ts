import { GALLONS_PER_CUBIC_METRE, GRAMS_PER_GRAIN, KG_PER_LB } from '../../../shared/units.ts';
import type { UnitSystem } from '../../brief/inUnits.ts';
import type { Estimate } from '../account/saltAccount.ts';
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

/** An estimate as it is told, rounded as far as its interval goes. */
export interface Told {
  /** Without its unit. */
  readonly value: string;
  /** Its 80 % interval, without the unit; null where none was worked out. */
  readonly range: string | null;
}

export function toldOf(estimate: Estimate, quantity: Quantity): Told {
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

/** Estimates together, as if all were wrong in the same direction: rather too wide an interval than too narrow. */
export function together(estimates: readonly Estimate[]): Estimate {
  return estimates.reduce(
    (sum, { value, low, high }) => ({ value: sum.value + value, low: sum.low + low, high: sum.high + high }),
    { value: 0, low: 0, high: 0 },
  );
}
