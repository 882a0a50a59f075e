import { concaveCurve } from './concaveCurve.ts';
import { positive, SofteningError } from './errors.ts';
import type { Sourced } from './sourced.ts';

/** What a cubic foot of resin holds after a dose of salt. */
export interface CapacityPoint extends Sourced {
  readonly doseLbPerCubicFoot: number;
  readonly grainsPerCubicFoot: number;
}

const HANDBOOK = 'ion-exchange handbooks, standard strong-acid cation resin, co-current, NaCl';

/** The points through which the capacity curve is drawn, by dose. The one place to change it. */
export const CAPACITY_POINTS: readonly CapacityPoint[] = [
  { doseLbPerCubicFoot: 0, grainsPerCubicFoot: 0, source: 'no salt restores nothing', basis: 'computed' },
  {
    doseLbPerCubicFoot: 6,
    grainsPerCubicFoot: 20_000,
    source: '35 Ill. Adm. Code 604.805(c): 20,000 gr/ft3 when regenerated at 0.3 lb of salt per 1,000 gr',
    basis: 'read in the source',
  },
  {
    doseLbPerCubicFoot: 8,
    grainsPerCubicFoot: 23_000,
    source: `${HANDBOOK}: 22,000 to 24,000`,
    basis: 'from memory, unverified',
  },
  {
    doseLbPerCubicFoot: 10,
    grainsPerCubicFoot: 25_500,
    source: `${HANDBOOK}: 24,000 to 27,000`,
    basis: 'from memory, unverified',
  },
  {
    doseLbPerCubicFoot: 15,
    grainsPerCubicFoot: 30_000,
    source: `${HANDBOOK}: about 30,000`,
    basis: 'from memory, unverified',
  },
  {
    doseLbPerCubicFoot: 20,
    grainsPerCubicFoot: 32_500,
    source: `${HANDBOOK}: 32,000 to 33,000`,
    basis: 'from memory, unverified',
  },
];

/** The highest dose that is believed, lb/ft3. From the last point up to it more salt restores no more. */
export const MAX_DOSE_LB_PER_CUBIC_FOOT = 30;

const curve = concaveCurve(CAPACITY_POINTS.map((each) => [each.doseLbPerCubicFoot, each.grainsPerCubicFoot]));
const FULL_DOSE = Math.max(...CAPACITY_POINTS.map((each) => each.doseLbPerCubicFoot));
const FULL_GRAINS = Math.max(...CAPACITY_POINTS.map((each) => each.grainsPerCubicFoot));

/**
 * Exchange capacity of a cubic foot of resin, grains as calcium carbonate, after a dose of NaCl in lb/ft3. Rises
 * and flattens with the dose up to 20, then stays. Throws `dose-out-of-range` unless 0 < dose <= 30.
 */
export function capacityGrainsPerCubicFoot(doseLbPerCubicFoot: number): number {
  if (doseLbPerCubicFoot > 0 && doseLbPerCubicFoot <= MAX_DOSE_LB_PER_CUBIC_FOOT) {
    return curve.at(Math.min(doseLbPerCubicFoot, FULL_DOSE));
  }
  throw new SofteningError(
    'dose-out-of-range',
    doseLbPerCubicFoot,
    `a salt dose of ${doseLbPerCubicFoot} lb per ft3 of resin is not above 0 and at most ` +
      `${MAX_DOSE_LB_PER_CUBIC_FOOT}. Check the salt dose and the resin volume on record.`,
  );
}

/** A bed and the salt each regeneration gives it. */
export interface DosedBed {
  readonly resinCubicFeet: number;
  readonly saltDoseLb: number;
}

/**
 * True capacity of a bed, grains, after a regeneration with its whole dose. Throws `resin-out-of-range`, or
 * `dose-out-of-range` as `capacityGrainsPerCubicFoot` does.
 */
export function bedCapacityGrains({ resinCubicFeet, saltDoseLb }: DosedBed): number {
  const resin = positive(resinCubicFeet, 'resin, ft3,', 'resin-out-of-range');
  return resin * capacityGrainsPerCubicFoot(saltDoseLb / resin);
}

/** A bed and the capacity wanted of it. */
export interface WantedCapacity {
  readonly resinCubicFeet: number;
  readonly capacityGrains: number;
}

/**
 * The least dose, lb of NaCl per regeneration, that gives a bed a capacity: the inverse of `bedCapacityGrains`. Throws
 * `resin-out-of-range`, or `capacity-out-of-range` unless 0 < capacity <= what the bed holds at full dose.
 */
export function doseForCapacity({ resinCubicFeet, capacityGrains }: WantedCapacity): number {
  const resin = positive(resinCubicFeet, 'resin, ft3,', 'resin-out-of-range');
  if (capacityGrains > 0 && capacityGrains <= resin * FULL_GRAINS) {
    return resin * curve.inverseAt(Math.min(capacityGrains / resin, FULL_GRAINS));
  }
  throw new SofteningError(
    'capacity-out-of-range',
    capacityGrains,
    `${resin} ft3 of resin cannot be given ${capacityGrains} grains, only above 0 and at most ` +
      `${resin * FULL_GRAINS}. Check the capacity and the resin volume.`,
  );
}

/** Salt efficiency of a dose, grains per lb. Falls as the dose rises. Throws as `capacityGrainsPerCubicFoot`. */
export function efficiencyGrainsPerLb(doseLbPerCubicFoot: number): number {
  return capacityGrainsPerCubicFoot(doseLbPerCubicFoot) / doseLbPerCubicFoot;
}
