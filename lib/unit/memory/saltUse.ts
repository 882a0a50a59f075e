import type { Fact, Regeneration } from '../../../shared/facts.ts';
import type { Instant } from '../../../shared/time/instant.ts';
import { normalProbability } from '../../demand/gamma.ts';
import type { UnitState } from '../state.ts';
import { noiseLb, sensorWorks } from '../tankLevel.ts';
import type { Seen, WrittenMemory } from './memory.ts';

/** The salt in a unit's tank, how fast it goes, and when the household refills. A unit without a level sensor has none. */
export interface SaltUse {
  /** Salt in the tank by all readings together, lb, and the variance of that, lb²; null before the first reading. */
  lb: number | null;
  variance: number;
  /** A reading far off, lb: a refill, or nothing. The next one will tell. */
  odd: number | null;
  /** When the last reading became known. */
  readAt: Instant | null;
  /** Whether the sensor sticks, as far as its readings show. */
  stuck: boolean;
  /** Treated water a day over the last weeks, US gallons, and the days behind that. */
  dailyGallons: number;
  days: number;
  /** Treated water since the last regeneration, US gallons. */
  gallons: number;
  /** The same of a whole cycle on the mean, and the cycles behind it. */
  cycleGallons: number;
  cycles: number;
  /** For how many days the salt would have lasted when the household last refilled, oldest first. */
  refillDays: readonly number[];
}

/** Mean of so many cycles: a month or so, after which another setting is known. */
const CYCLES_KEPT = 6;
/** Mean of so many days: guests come and go within it. */
export const DAYS_KEPT = 45;
/** From here on what is left over of a dose is of no account. */
const MANY_DOSES = 6;
/** A reading is odd if it is so many standard deviations off. */
const ODD_DEVIATIONS = 4;

/** How fast salt goes, and when the household refills. */
export const saltUse: WrittenMemory<SaltUse> = {
  start: () => ({
    lb: null,
    variance: 0,
    odd: null,
    readAt: null,
    stuck: false,
    dailyGallons: 0,
    days: 0,
    gallons: 0,
    cycleGallons: 0,
    cycles: 0,
    refillDays: [],
  }),
  copy: (kept) => ({
    lb: kept.lb,
    variance: kept.variance,
    odd: kept.odd,
    readAt: kept.readAt,
    stuck: kept.stuck,
    dailyGallons: kept.dailyGallons,
    days: kept.days,
    gallons: kept.gallons,
    cycleGallons: kept.cycleGallons,
    cycles: kept.cycles,
    refillDays: kept.refillDays,
  }),
  observe(kept, fact, seen) {
    if (!tells(kept, fact)) return kept;
    take(kept, fact, seen);
    shorten(kept);
    return kept;
  },
};

/** Whether a fact says anything of the salt: most do once the level has been read, and only readings do before. */
function tells({ lb }: SaltUse, fact: Fact): boolean {
  switch (fact.kind) {
    case 'salt-level':
      return true;
    case 'flow-day':
      return lb !== null;
    case 'regeneration':
      return lb !== null || fact.saltBeforeLb !== undefined || fact.saltAfterLb !== undefined;
    case 'service-visit':
      return lb !== null && fact.saltAddedLb !== undefined && fact.saltAddedLb > 0;
    default:
      return false;
  }
}

function take(kept: SaltUse, fact: Fact, seen: Seen) {
  switch (fact.kind) {
    case 'salt-level':
      return read(kept, fact.lb, fact.known, seen);
    case 'flow-day':
      return use(kept, fact.gallons);
    case 'regeneration':
      return regenerate(kept, fact, seen);
    case 'service-visit':
      return addSalt(kept, fact.saltAddedLb ?? 0);
  }
}

/** To no more decimals than tell anything: it is stored with every unit. */
function shorten(kept: SaltUse) {
  if (kept.lb !== null) kept.lb = hundredths(kept.lb);
  kept.variance = Math.max(0.01, hundredths(kept.variance));
  if (kept.odd !== null) kept.odd = hundredths(kept.odd);
  kept.dailyGallons = hundredths(kept.dailyGallons);
  kept.gallons = hundredths(kept.gallons);
  kept.cycleGallons = hundredths(kept.cycleGallons);
}

function hundredths(value: number): number {
  return Math.round(value * 100) / 100;
}

/**
 * Treated water in US gallons that the salt in the tank will see, on the mean, until a regeneration lacks some of its
 * dose. Null where it cannot be told.
 */
export function gallonsOfSalt(kept: SaltUse, state: UnitState, cycleGallons: number): number | null {
  const doseLb = state.draw.usualSaltLb;
  if (kept.lb === null || !(cycleGallons > 0 && cycleGallons < Number.POSITIVE_INFINITY)) return null;
  const untilNext = Math.max(0, cycleGallons - kept.gallons);
  return untilNext + wholeDoses(kept.lb / doseLb, Math.sqrt(kept.variance) / doseLb) * cycleGallons;
}

/** Mean of the whole doses in a normal number of doses: P(at least k) summed. */
function wholeDoses(doses: number, deviation: number): number {
  // Of many, the part of a dose that is left over is half a dose on the mean.
  if (doses > MANY_DOSES) return doses - 0.5;
  let mean = 0;
  for (let count = 1; count <= 2 * MANY_DOSES; count++)
    mean += normalProbability((doses - count) / Math.max(deviation, 0.01));
  return mean;
}

function use(kept: SaltUse, gallons: number) {
  kept.days = Math.min(DAYS_KEPT, kept.days + 1);
  kept.dailyGallons += (gallons - kept.dailyGallons) / kept.days;
  kept.gallons += gallons;
}

function regenerate(kept: SaltUse, fact: Regeneration, seen: Seen) {
  if (fact.saltBeforeLb !== undefined) read(kept, fact.saltBeforeLb, fact.known, seen);
  if (kept.lb !== null) drawDose(kept, kept.lb, seen);
  if (fact.saltAfterLb !== undefined) read(kept, fact.saltAfterLb, fact.known, seen);
}

/** A regeneration ends the cycle, and draws a dose from the `lb` in the tank. */
function drawDose(kept: SaltUse, lb: number, { state: { draw, bed }, rules }: Seen) {
  const doseLb = draw.usualSaltLb;
  // The level itself will tell whether a dose was drawn; a belief that is wrong must not mislead it.
  const drawn = Math.max(0.5, draw.belief.drawn);
  // A cycle with days that nobody reported says less than it seems.
  const isWhole = (bed.previous?.imputedGrains ?? 0) === 0 && kept.gallons > 0;
  kept.lb = Math.max(0, lb - drawn * doseLb);
  kept.variance += (drawn * (1 - drawn) + rules.saltUse.doseSpread ** 2) * doseLb ** 2;
  if (kept.odd !== null) kept.odd -= drawn * doseLb;
  if (isWhole) {
    kept.cycles = Math.min(CYCLES_KEPT, kept.cycles + 1);
    kept.cycleGallons += (kept.gallons - kept.cycleGallons) / kept.cycles;
  }
  kept.gallons = 0;
}

/** Takes in a reading: a Kalman filter, to which two odd readings that agree are a refill, and one alone is nothing. */
function read(kept: SaltUse, lb: number, readAt: Instant, seen: Seen) {
  const rules = seen.rules.saltUse;
  const { tank } = seen.state;
  const { lb: lbBefore, odd, stuck: wasStuck } = kept;
  const noiseDeviation = noiseLb(tank);
  const noise = noiseDeviation * noiseDeviation;
  kept.readAt = readAt;
  kept.stuck = sensorWorks(tank) < 0.5;
  kept.odd = null;
  // Of what happened while the sensor stuck nothing is known, so it begins anew.
  if (lbBefore === null || (wasStuck && !kept.stuck)) {
    kept.lb = lb;
    kept.variance = noise;
    return;
  }
  // What a sensor says that sticks is no news: the salt goes on as doses are drawn.
  if (kept.stuck) return;
  const off = lb - lbBefore;
  const variance = kept.variance + noise;
  const isOdd = Math.abs(off) > Math.max(rules.refillLb, ODD_DEVIATIONS * Math.sqrt(variance));
  if (!isOdd) {
    const gain = kept.variance / variance;
    kept.lb = Math.max(0, lbBefore + gain * off);
    kept.variance = (1 - gain) * kept.variance;
    return;
  }
  const agree = Math.max(rules.refillLb, ODD_DEVIATIONS * Math.sqrt(2 * noise));
  if (odd === null || Math.abs(lb - odd) > agree) {
    kept.odd = lb;
    return;
  }
  // What was left is still told by what was there before.
  if (off > 0) kept.refillDays = withRefill(kept, seen);
  kept.lb = Math.max(0, (lb + odd) / 2);
  kept.variance = noise / 2;
}

function withRefill(kept: SaltUse, { state, rules }: Seen): readonly number[] {
  const left = gallonsOfSalt(kept, state, kept.cycleGallons);
  if (left === null) return kept.refillDays;
  const days = Math.round((10 * left) / state.household.level) / 10;
  return [...kept.refillDays, days].slice(-rules.saltUse.refillsKept);
}

/** Salt that a technician brought: it is in the tank, and says nothing of the household's habit. */
function addSalt(kept: SaltUse, saltAddedLb: number) {
  if (kept.lb === null) return;
  kept.lb += saltAddedLb;
  kept.variance += (0.1 * saltAddedLb) ** 2;
  kept.odd = null;
}
