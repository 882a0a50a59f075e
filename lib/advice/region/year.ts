import { recordOf } from '../../../shared/records.ts';
import { chlorideLb } from '../../softening/chloride.ts';
import { POTASSIUM_LB_PER_GRAIN, POTASSIUM_MASS_FRACTION } from '../../softening/potassium.ts';
import { SODIUM_LB_PER_GRAIN, SODIUM_MASS_FRACTION } from '../../softening/sodium.ts';
import { KCL_LB_PER_LB_NACL, type Salt } from '../../softening/stoichiometry.ts';

/**
 * What is told of a year of one unit, or of many together:
 *
 * - `saltLb` of whatever salt it is regenerated with, and `chlorideLb`, `sodiumLb`, `potassiumLb` that this brings: to
 *   the drain, but for what goes into the softened water in the place of hardness
 * - `sodiumInWaterLb`, `potassiumInWaterLb`: that part
 * - `waterGallons` of the regenerations, US gallons
 * - `hardDays`, local days on which water was drawn from a bed that had run out
 */
export const MEASURES = [
  'saltLb',
  'chlorideLb',
  'waterGallons',
  'hardDays',
  'sodiumLb',
  'sodiumInWaterLb',
  'potassiumLb',
  'potassiumInWaterLb',
] as const;

export type Measure = (typeof MEASURES)[number];

export type Year = Readonly<Record<Measure, number>>;

/** Measures that go with the salt that is drawn of a dose, and so with what a dose on record truly comes to. */
export const GOES_WITH_SALT: Readonly<Record<Measure, boolean>> = {
  saltLb: true,
  chlorideLb: true,
  waterGallons: false,
  hardDays: false,
  sodiumLb: true,
  sodiumInWaterLb: false,
  potassiumLb: true,
  potassiumInWaterLb: false,
};

/** What a replay counts, of a year or a part of one. */
export interface Counted {
  /** Salt by the doses, lb of sodium chloride. */
  readonly doseLb: number;
  readonly waterGallons: number;
  readonly hardDays: number;
  /** Hardness taken out of the water, grains as CaCO3. */
  readonly grainsRemoved: number;
}

/** All that is told of it, with each dose given as so many equivalents of a salt. */
export function yearOf({ doseLb, waterGallons, hardDays, grainsRemoved }: Counted, salt: Salt): Year {
  const isPotassium = salt === 'KCl';
  const saltLb = isPotassium ? doseLb * KCL_LB_PER_LB_NACL : doseLb;
  return {
    saltLb,
    chlorideLb: chlorideLb(saltLb, salt),
    waterGallons,
    hardDays,
    sodiumLb: isPotassium ? 0 : saltLb * SODIUM_MASS_FRACTION,
    sodiumInWaterLb: isPotassium ? 0 : grainsRemoved * SODIUM_LB_PER_GRAIN,
    potassiumLb: isPotassium ? saltLb * POTASSIUM_MASS_FRACTION : 0,
    potassiumInWaterLb: isPotassium ? grainsRemoved * POTASSIUM_LB_PER_GRAIN : 0,
  };
}

/** The years of many units together. */
export function together(years: readonly Year[]): Year {
  return recordOf(MEASURES, (measure) => years.reduce((sum, year) => sum + year[measure], 0));
}
