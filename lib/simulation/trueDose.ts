import { MAX_DOSE_LB_PER_CUBIC_FOOT } from '../softening/capacity.ts';
import { Chance, STREAM } from './chance.ts';
import type { UnitPlan } from './plan.ts';

/** How the doses that units truly draw differ from those on record: the ratio of the two, on the whole 1. */
export interface DoseDeviation {
  /** Standard deviation, from one fleet to another, of the mean over all its units of that ratio: normal, 0 or more. */
  readonly betweenFleets: number;
  /** Standard deviation of it from unit to unit of a fleet, as a share: lognormal, 0 or more. */
  readonly betweenUnits: number;
  /** Standard deviation from one regeneration of a unit to the next, as a share: normal, 0 or more. */
  readonly betweenRegenerations: number;
}

/** What one unit truly draws over the dose on record, and how that scatters. */
export interface TrueDose {
  readonly factor: number;
  readonly scatter: number;
}

/** Beyond these a dose would be no mistake of a setting any more. A judgement. */
const FACTOR = { least: 0.4, most: 2 } as const;

/**
 * Draws one unit's.
 *
 * @param fleet the fleet's seed
 */
export function drawTrueDose(
  { betweenFleets, betweenUnits, betweenRegenerations }: DoseDeviation,
  fleet: number,
  chance: Chance,
): TrueDose {
  const mean = new Chance(fleet, STREAM.trueDose).normal(1, betweenFleets);
  const logVariance = Math.log(1 + betweenUnits ** 2);
  const factor = mean * Math.exp(chance.normal(-logVariance / 2, Math.sqrt(logVariance)));
  return { factor: Math.min(FACTOR.most, Math.max(FACTOR.least, factor)), scatter: betweenRegenerations };
}

/** What one regeneration after the other of a unit takes of a tank that has it, lb. */
export function trueDoses(
  { factor, scatter }: TrueDose,
  { seed, profile }: Pick<UnitPlan, 'seed' | 'profile'>,
): () => number {
  const chance = new Chance(seed[0], STREAM.scatterOfDose, seed[1]);
  const meanLb = factor * profile.saltDoseLb;
  const mostLb = MAX_DOSE_LB_PER_CUBIC_FOOT * profile.resinCubicFeet;
  return () => Math.min(mostLb, meanLb * Math.max(0.1, chance.normal(1, scatter)));
}
