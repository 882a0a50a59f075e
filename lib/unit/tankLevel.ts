/** The mean of some readings of a level. Never written to once it is made, so that many may keep the same one. */
export interface Reading {
  readonly lb: number;
  readonly count: number;
}

/**
 * The salt in the tank by its level sensor, which is noisy: readings are averaged over the stretches in which the
 * level holds still, from one regeneration or refill to the next, and the noise is learnt from their scatter.
 */
export interface TankLevel {
  /** Readings since the last regeneration or refill. */
  since: Reading | null;
  /** Squares of deviations within stretches, lb², and how many deviations are in it. */
  squares: number;
  deviations: number;
  /** The last reading to the letter, lb, and how many readings in a row were the same. */
  lastLb: number;
  same: number;
}

/** How often, a reading, a sensor begins to stick: once in some ten years of a reading or two a day. A guess, no source. */
const STICKS = 2e-4;
/** What a sensor's noise is before it is known, lb, and how many readings that is worth. */
const USUAL_NOISE_LB = 2;
const USUAL_NOISE_WEIGHT = 6;
/** Memory of the noise, in readings. */
const NOISE_MEMORY = 120;
/** A bag of salt is 40 lb, and nobody carries down less than a good part of one (common practice, no source). */
const REFILL_LB = 12;
/** Averaging more readings than this gains nothing, and a level drifts. */
const MOST_READINGS = 30;

/** A tank that has not been read. */
export function newTankLevel(): TankLevel {
  return {
    since: null,
    squares: USUAL_NOISE_WEIGHT * USUAL_NOISE_LB ** 2,
    deviations: USUAL_NOISE_WEIGHT,
    lastLb: 0,
    same: 0,
  };
}

/** A copy that shares nothing that is written to. */
export function copyTankLevel(tank: TankLevel): TankLevel {
  return {
    since: tank.since,
    squares: tank.squares,
    deviations: tank.deviations,
    lastLb: tank.lastLb,
    same: tank.same,
  };
}

/**
 * Probability that the sensor does not stick. One that works scatters: that two of its readings in a row are the same
 * pound has the probability 1 / (2 sqrt(pi) s) at a standard deviation of s lb; a sticking one repeats itself for good.
 */
export function sensorWorks(tank: TankLevel): number {
  const { same } = tank;
  if (same < 3) return 1;
  const agree = Math.min(1, 1 / (2 * Math.sqrt(Math.PI) * noiseLb(tank)));
  // It may have begun to stick at any of them.
  return 1 / (1 + (STICKS * same) / agree ** (same - 1));
}

/** Standard deviation of one reading, lb. */
export function noiseLb(tank: TankLevel): number {
  return Math.sqrt(tank.squares / tank.deviations);
}

/** Takes in a reading. Returns whether the level has risen so far that salt was put in since the last one. */
export function readLevel(tank: TankLevel, lb: number): boolean {
  const { since } = tank;
  tank.same = lb === tank.lastLb ? tank.same + 1 : 1;
  tank.lastLb = lb;
  if (!since) {
    tank.since = { lb, count: 1 };
    return false;
  }
  const deviation = lb - since.lb;
  const noise = noiseLb(tank);
  if (deviation > Math.max(REFILL_LB, 4 * noise)) {
    tank.since = { lb, count: 1 };
    return true;
  }
  // A reading's square about the mean of n others is (1 + 1/n) times that about the truth; a wild one counts as 4 deviations.
  const square = Math.min((deviation * deviation) / (1 + 1 / since.count), 16 * (noise * noise));
  const fade = tank.deviations >= NOISE_MEMORY ? 1 - 1 / NOISE_MEMORY : 1;
  tank.squares = tank.squares * fade + square;
  tank.deviations = tank.deviations * fade + 1;
  const count = Math.min(MOST_READINGS, since.count + 1);
  tank.since = { lb: since.lb + deviation / count, count };
  return false;
}

/** Begins a new stretch, at a regeneration; returns the mean of the one that ended. */
export function nextStretch(tank: TankLevel): Reading | null {
  const { since } = tank;
  tank.since = null;
  return since;
}
