import {
  CAO_GRAMS_PER_MOL,
  LITRES_PER_IMPERIAL_GALLON,
  MG_PER_GRAIN,
  MG_PER_L_CACO3_PER_MMOL_PER_L,
  MG_PER_L_PER_GPG,
} from '../../shared/units.ts';
import { notNegative } from './errors.ts';

/** What one of each unit of hardness is in mg/L as calcium carbonate. */
const MG_PER_L = {
  /** Grains per US gallon. */
  gpg: MG_PER_L_PER_GPG,
  'mg/L': 1,
  /** Of calcium and magnesium together. */
  'mmol/L': MG_PER_L_CACO3_PER_MMOL_PER_L,
  /** German degrees: 10 mg/L as calcium oxide. */
  dH: (10 * MG_PER_L_CACO3_PER_MMOL_PER_L) / CAO_GRAMS_PER_MOL,
  /** French degrees: 10 mg/L as calcium carbonate. */
  fH: 10,
  /** English (Clark) degrees: grains per imperial gallon. */
  Clark: MG_PER_GRAIN / LITRES_PER_IMPERIAL_GALLON,
} as const;

/** A unit in which hardness as calcium carbonate is given. */
export type HardnessUnit = keyof typeof MG_PER_L;

/** Converts a hardness between any two units. Exact up to rounding, for any number. */
export function convertHardness(value: number, from: HardnessUnit, to: HardnessUnit): number {
  return (value * MG_PER_L[from]) / MG_PER_L[to];
}

/**
 * The classes of hardness with their highest value in whole mg/L as calcium carbonate.
 * Source: USGS FAQ "Do you have information about water hardness in the United States?" (read). Other scales exist
 * (the US Army's TM 5-813-1 counts in hundreds); do not mix them.
 */
const USGS_HARDNESS_CLASSES = [
  { name: 'soft', upToMgPerL: 60 },
  { name: 'moderately hard', upToMgPerL: 120 },
  { name: 'hard', upToMgPerL: 180 },
  { name: 'very hard', upToMgPerL: Infinity },
] as const;

/** The name of a hardness class. */
export type HardnessClass = (typeof USGS_HARDNESS_CLASSES)[number]['name'];

/**
 * The USGS class of a hardness in gpg. The classes are printed in whole mg/L (0 to 60, 61 to 120), so the hardness
 * is rounded to one first. Throws `hardness-out-of-range` below 0.
 */
export function usgsHardnessClass(hardnessGpg: number): HardnessClass {
  const gpg = notNegative(hardnessGpg, 'hardness, gpg,', 'hardness-out-of-range');
  const mgPerL = Math.round(convertHardness(gpg, 'gpg', 'mg/L'));
  return USGS_HARDNESS_CLASSES.find((each) => mgPerL <= each.upToMgPerL)?.name ?? 'very hard';
}
