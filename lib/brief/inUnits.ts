import {
  GRAMS_PER_GRAIN,
  KG_PER_LB,
  LITRES_PER_CUBIC_FOOT,
  LITRES_PER_GALLON,
  MG_PER_L_PER_GPG,
} from '../../shared/units.ts';

/** In which units somebody likes figures. */
export type UnitSystem = 'us' | 'metric';

/** Writes quantities of the trade's units for people, with their unit. */
export interface InUnits {
  readonly volumeUnit: string;
  readonly massUnit: string;
  readonly hardnessUnit: string;
  /** US gallons as a bare number in the volume unit. */
  volumeOf(gallons: number): number;
  volume(gallons: number): string;
  mass(lb: number): string;
  resin(cubicFeet: number): string;
  /** Hardness; metric with gpg beside it, since many controls count in grains whatever the country. */
  hardness(gpg: number): string;
  /** Exchange capacity, in the same way. */
  capacity(grains: number): string;
}

const US: InUnits = {
  volumeUnit: 'gal',
  massUnit: 'lb',
  hardnessUnit: 'gpg',
  volumeOf: (gallons) => gallons,
  volume: (gallons) => `${whole(gallons)} gal`,
  mass: (lb) => `${tenths(lb)} lb`,
  resin: (cubicFeet) => `${Number(cubicFeet.toFixed(2))} ft³`,
  hardness: (gpg) => `${tenths(gpg)} gpg`,
  capacity: (grains) => `${whole(grains)} grains`,
};

const METRIC: InUnits = {
  volumeUnit: 'L',
  massUnit: 'kg',
  hardnessUnit: 'mg/L',
  volumeOf: (gallons) => gallons * LITRES_PER_GALLON,
  volume: (gallons) => `${whole(gallons * LITRES_PER_GALLON)} L`,
  mass: (lb) => `${tenths(lb * KG_PER_LB)} kg`,
  resin: (cubicFeet) => `${tenths(cubicFeet * LITRES_PER_CUBIC_FOOT)} L`,
  hardness: (gpg) => `${whole(gpg * MG_PER_L_PER_GPG)} mg/L (${tenths(gpg)} gpg)`,
  capacity: (grains) => `${whole(grains * GRAMS_PER_GRAIN)} g (${whole(grains)} grains)`,
};

export function inUnits(system: UnitSystem): InUnits {
  return system === 'us' ? US : METRIC;
}

/** A number with thousands set apart, in English as the words around it are. */
function whole(value: number): string {
  return Math.round(value).toLocaleString('en-US');
}

function tenths(value: number): string {
  return (Math.round(value * 10) / 10).toLocaleString('en-US');
}
