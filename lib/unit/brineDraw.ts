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

/** Probability of each state of affairs; they sum to 1. */
export interface Belief {
  drawn: number;
  /** Nothing leaves the tank: brine line, injector, air check. */
  notDrawn: number;
  /** Water is drawn from a tank without salt. */
  empty: number;
  /** Water is drawn from beneath a crust that the salt does not fall through. */
  bridged: number;
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
/** How much the record's dose weighs against measured draws, in regenerations. */
const DOSE_WEIGHT = 4;
const USUAL_MEMORY = 20;
/** How far the usual brine volume follows one that was drawn. */
const BRINE_GAIN = 0.2;

/** What is believed of a unit whose regenerations have not been seen. */
export function newBrineDraw(saltDoseLb: number, rules: DrawRules): BrineDraw {
  const belief = normalised({
    drawn: 1 - rules.emptyOnset - rules.bridgedOnset - rules.notDrawnOnset,
    notDrawn: rules.notDrawnOnset,
    empty: rules.emptyOnset,
    bridged: rules.bridgedOnset,
  });
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
  const read = (density: number) => sensorWorks * density + (1 - sensorWorks) / LEVEL_RANGE_LB;
  const likelihood = { drawn: 1, notDrawn: 1, empty: 1, bridged: 1 };
  if (draw.brineShare !== null) {
    const usual = Math.max(FLOOR, density(draw.brineShare, 1, BRINE_SPREAD));
    likelihood.drawn *= usual;
    likelihood.empty *= usual;
    likelihood.bridged *= usual;
    likelihood.notDrawn *= Math.max(FLOOR, 2 * density(draw.brineShare, 0, NOTHING_SPREAD));
  }
  if (draw.levelBefore && draw.levelAfter) {
    const drop = draw.levelBefore.lb - draw.levelAfter.lb;
    const variance = noiseLb ** 2 * (1 / draw.levelBefore.count + 1 / draw.levelAfter.count);
    const doseSpread = DOSE_SPREAD * draw.usualSaltLb;
    likelihood.drawn *= read(FLOOR + density(drop, draw.usualSaltLb, Math.sqrt(variance + doseSpread ** 2)));
    const nothing = read(FLOOR + density(drop, 0, Math.sqrt(variance + 0.25)));
    likelihood.notDrawn *= nothing;
    likelihood.empty *= nothing;
    likelihood.bridged *= nothing;
  }
  if (draw.levelBefore) {
    const { lb, count } = draw.levelBefore;
    const anywhere = 1 / LEVEL_RANGE_LB;
    likelihood.drawn *= anywhere;
    likelihood.notDrawn *= anywhere;
    likelihood.bridged *= anywhere;
    const spread = Math.sqrt(EMPTY_LEVEL_SPREAD_LB ** 2 + noiseLb ** 2 / count);
    likelihood.empty *= read(FLOOR * anywhere + density(Math.max(lb, 0), EMPTY_LEVEL_LB, spread));
  }
  draw.belief = normalised({
    drawn: draw.before.drawn * likelihood.drawn,
    notDrawn: draw.before.notDrawn * likelihood.notDrawn,
    empty: draw.before.empty * likelihood.empty,
    bridged: draw.before.bridged * likelihood.bridged,
  });
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
  return Math.exp(-0.5 * z * z) / (spread * Math.sqrt(2 * Math.PI));
}

function normalised(belief: Belief): Belief {
  const sum = belief.drawn + belief.notDrawn + belief.empty + belief.bridged;
  return {
    drawn: belief.drawn / sum,
    notDrawn: belief.notDrawn / sum,
    empty: belief.empty / sum,
    bridged: belief.bridged / sum,
  };
}
