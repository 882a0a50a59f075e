import { brineGallonsForDose } from '../softening/brine.ts';
import type { Reading } from './tankLevel.ts';

/**
 * Whether the regenerations of a unit draw salt: a hidden Markov model over regenerations. What is wrong stays wrong
 * from one regeneration to the next until somebody mends it, so weak evidence adds up; where a unit carries no sensor
 * that tells, the probability stays at its prior and the model says nothing.
 */
export interface BrineDraw {
  /** Belief before the last regeneration's own evidence. */
  before: Belief;
  /** Belief with the evidence of the last regeneration as far as it has come in. */
  belief: Belief;
  /** Brine volume over the usual at the last regeneration, where it is sensed. */
  brineShare: number | null;
  /** The tank before the last regeneration, and since then until salt was put in. */
  levelBefore: Reading | null;
  levelAfter: Reading | null;
  /** Probability that an empty tank, or whatever else was wrong, has been mended since the last regeneration. */
  refilled: number;
  repaired: number;
  /** Brine that a regeneration of this unit usually draws, US gallons. */
  usualBrineGallons: number;
  /** Salt that a regeneration of this unit usually draws by its level sensor, lb, and the regenerations behind that. */
  usualSaltLb: number;
  usualWeight: number;
  /** Regenerations in a row that drew no salt, by belief. */
  withoutSalt: number;
}

/** Probability of each state of affairs; they sum to 1. Never written to once it is made. */
export interface Belief {
  readonly drawn: number;
  /** Nothing leaves the tank: brine line, injector, air check. */
  readonly notDrawn: number;
  /** Water is drawn from a tank without salt. */
  readonly empty: number;
  /** Water is drawn from beneath a crust that the salt does not fall through. */
  readonly bridged: number;
}

/** How a regeneration differs from the one before; the numbers are those of the rules. */
export interface DrawRules {
  /** Probability that a regeneration is the first of a faulty spell, by cause. */
  emptyOnset: number;
  bridgedOnset: number;
  notDrawnOnset: number;
  /** Probability that a faulty spell ends by itself before the next regeneration. */
  selfCure: number;
  /** Probability that salt put into an empty tank, or a technician's visit, ends a faulty spell. */
  cureByHand: number;
}

/** Relative deviation of a usual brine volume from its mean. */
const BRINE_SPREAD = 0.2;
/** A draw of nothing still reads something. */
const NOTHING_SPREAD = 0.1;
/** No sensor is beyond doubt: no reading counts for more than this against a state. */
const FLOOR = 1e-3;
/** Salt drawn at one regeneration deviates this much from the usual, as a share. */
const DOSE_SPREAD = 0.15;
/** An empty tank reads a little: the sensor's foot, undissolved rest. lb. */
const EMPTY_LEVEL_LB = 2;
const EMPTY_LEVEL_SPREAD_LB = 3;
/** Levels of a tank in use lie anywhere up to about this. lb. */
const LEVEL_RANGE_LB = 200;
const ANYWHERE = 1 / LEVEL_RANGE_LB;
/** How much the record's dose weighs against measured draws, in regenerations. */
const DOSE_WEIGHT = 4;
const USUAL_MEMORY = 20;
const ROOT_OF_TWO_PI = Math.sqrt(2 * Math.PI);
/** How far the usual brine volume follows one that was drawn. */
const BRINE_GAIN = 0.2;

/** What is believed of a unit whose regenerations have not been seen. */
export function newBrineDraw(saltDoseLb: number, rules: DrawRules): BrineDraw {
  const { emptyOnset, bridgedOnset, notDrawnOnset } = rules;
  const belief = normalised(
    1 - emptyOnset - bridgedOnset - notDrawnOnset,
    notDrawnOnset,
    emptyOnset,
    bridgedOnset,
  );
  return {
    before: belief,
    belief,
    brineShare: null,
    levelBefore: null,
    levelAfter: null,
    refilled: 0,
    repaired: 0,
    usualBrineGallons: brineGallonsForDose(saltDoseLb),
    usualSaltLb: saltDoseLb,
    usualWeight: DOSE_WEIGHT,
    withoutSalt: 0,
  };
}

/** A copy that shares nothing that is written to. */
export function copyBrineDraw(draw: BrineDraw): BrineDraw {
  return {
    before: draw.before,
    belief: draw.belief,
    brineShare: draw.brineShare,
    levelBefore: draw.levelBefore,
    levelAfter: draw.levelAfter,
    refilled: draw.refilled,
    repaired: draw.repaired,
    usualBrineGallons: draw.usualBrineGallons,
    usualSaltLb: draw.usualSaltLb,
    usualWeight: draw.usualWeight,
    withoutSalt: draw.withoutSalt,
  };
}

/** Probability that the last regeneration drew no salt. */
export function withoutSaltProbability(draw: BrineDraw): number {
  return 1 - draw.belief.drawn;
}

/** Salt that the last regeneration is believed to have drawn, lb of a dose of `saltDoseLb`. */
export function expectedDrawLb(draw: BrineDraw, saltDoseLb: number): number {
  // Below an even chance the dose is believed: a prior's few percent must not shorten every bed.
  return draw.belief.drawn > 0.5 ? saltDoseLb : draw.belief.drawn * saltDoseLb;
}

/** Begins a regeneration: what was believed of the one before is settled, and may have begun or ended since. */
export function beginDraw(
  draw: BrineDraw,
  seen: { brineGallons: number | undefined; levelBefore: Reading | null; sensorWorks: number },
  rules: DrawRules,
) {
  learnUsualSalt(draw);
  draw.withoutSalt = draw.belief.drawn < 0.5 ? draw.withoutSalt + 1 : 0;
  const stays = (1 - rules.selfCure) * (1 - draw.repaired);
  const notDrawn = draw.belief.notDrawn * stays;
  const empty = draw.belief.empty * stays * (1 - draw.refilled);
  const bridged = draw.belief.bridged * stays;
  const drawn = 1 - notDrawn - empty - bridged;
  draw.before = {
    drawn: drawn * (1 - rules.emptyOnset - rules.bridgedOnset - rules.notDrawnOnset),
    notDrawn: notDrawn + drawn * rules.notDrawnOnset,
    empty: empty + drawn * rules.emptyOnset,
    bridged: bridged + drawn * rules.bridgedOnset,
  };
  draw.refilled = 0;
  draw.repaired = 0;
  draw.levelBefore = seen.levelBefore;
  draw.levelAfter = null;
  draw.brineShare = seen.brineGallons === undefined ? null : seen.brineGallons / draw.usualBrineGallons;
  if (seen.brineGallons !== undefined && draw.brineShare !== null && draw.brineShare > 0.5) {
    draw.usualBrineGallons += BRINE_GAIN * (seen.brineGallons - draw.usualBrineGallons);
  }
  weighDraw(draw, 0, seen.sensorWorks);
}

/** The tank has been read since the last regeneration: weighs it, unless salt was put in meanwhile. */
export function levelSince(
  draw: BrineDraw,
  level: Reading | null,
  { noiseLb, sensorWorks }: { noiseLb: number; sensorWorks: number },
) {
  if (!draw.levelBefore || draw.refilled > 0 || draw.repaired > 0) return;
  draw.levelAfter = level;
  weighDraw(draw, noiseLb, sensorWorks);
}

/**
 * Weighs the evidence of the last regeneration anew.
 *
 * @param noiseLb standard deviation of one reading
 * @param sensorWorks probability that the level sensor does not stick; what it says counts only so far
 */
function weighDraw(draw: BrineDraw, noiseLb: number, sensorWorks: number) {
  const { before, brineShare, levelBefore, levelAfter } = draw;
  let drawn = 1;
  let notDrawn = 1;
  let empty = 1;
  let bridged = 1;
  if (brineShare !== null) {
    const usual = Math.max(FLOOR, density(brineShare, 1, BRINE_SPREAD));
    drawn *= usual;
    empty *= usual;
    bridged *= usual;
    notDrawn *= Math.max(FLOOR, 2 * density(brineShare, 0, NOTHING_SPREAD));
  }
  if (levelBefore && levelAfter) {
    const drop = levelBefore.lb - levelAfter.lb;
    const variance = noiseLb * noiseLb * (1 / levelBefore.count + 1 / levelAfter.count);
    const doseSpread = DOSE_SPREAD * draw.usualSaltLb;
    const dose = density(drop, draw.usualSaltLb, Math.sqrt(variance + doseSpread * doseSpread));
    drawn *= read(FLOOR + dose, sensorWorks);
    const nothing = read(FLOOR + density(drop, 0, Math.sqrt(variance + 0.25)), sensorWorks);
    notDrawn *= nothing;
    empty *= nothing;
    bridged *= nothing;
  }
  if (levelBefore) {
    drawn *= ANYWHERE;
    notDrawn *= ANYWHERE;
    bridged *= ANYWHERE;
    const spread = Math.sqrt(
      EMPTY_LEVEL_SPREAD_LB * EMPTY_LEVEL_SPREAD_LB + (noiseLb * noiseLb) / levelBefore.count,
    );
    const foot = density(Math.max(levelBefore.lb, 0), EMPTY_LEVEL_LB, spread);
    empty *= read(FLOOR * ANYWHERE + foot, sensorWorks);
  }
  draw.belief = normalised(
    before.drawn * drawn,
    before.notDrawn * notDrawn,
    before.empty * empty,
    before.bridged * bridged,
  );
}

/** Density of what a sensor says, 1/lb, that sticks at any level where it does not work. */
function read(density: number, sensorWorks: number): number {
  return sensorWorks * density + (1 - sensorWorks) / LEVEL_RANGE_LB;
}

/** Learns the usual draw from a regeneration that drew, once all readings of it are in. */
function learnUsualSalt(draw: BrineDraw) {
  if (!draw.levelBefore || !draw.levelAfter || draw.belief.drawn < 0.9) return;
  const drop = draw.levelBefore.lb - draw.levelAfter.lb;
  draw.usualWeight = Math.min(USUAL_MEMORY, draw.usualWeight + 1);
  draw.usualSaltLb = Math.max(1, draw.usualSaltLb + (drop - draw.usualSaltLb) / draw.usualWeight);
}

/** Takes over another dose: what was usual before says nothing of it. */
export function setUsualDose(draw: BrineDraw, saltDoseLb: number) {
  draw.usualSaltLb = saltDoseLb;
  draw.usualBrineGallons = brineGallonsForDose(saltDoseLb);
  draw.usualWeight = DOSE_WEIGHT;
}

/** Salt was put into the tank: if it was empty, it hardly is at the next regeneration. */
export function saltAdded(draw: BrineDraw, rules: DrawRules) {
  draw.refilled = rules.cureByHand;
}

/** A technician was there: whatever was wrong is probably mended by the next regeneration. */
export function visited(draw: BrineDraw, rules: DrawRules) {
  draw.repaired = rules.cureByHand;
}

function density(value: number, mean: number, spread: number): number {
  const z = (value - mean) / spread;
  return Math.exp(-0.5 * z * z) / (spread * ROOT_OF_TWO_PI);
}

function normalised(drawn: number, notDrawn: number, empty: number, bridged: number): Belief {
  const sum = drawn + notDrawn + empty + bridged;
  return { drawn: drawn / sum, notDrawn: notDrawn / sum, empty: empty / sum, bridged: bridged / sum };
}
