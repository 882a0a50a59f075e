import * as z from 'zod';
import type { Fact, Regeneration } from '../../../shared/facts.ts';
import type { Instant } from '../../../shared/time/instant.ts';
import { normalProbability } from '../../demand/gamma.ts';
import type { UnitState } from '../state.ts';
import { noiseLb, sensorWorks } from '../tankLevel.ts';
import type { Memory, Seen } from './memory.ts';

const share = () => z.number().min(0).max(1);

export const saltUseRulesSchema = () =>
  z.strictObject({
    refillLb: z
      .number()
      .positive()
      .default(12)
      .describe(
        'A rise of less is noise: a bag is 40 lb, and hardly anybody carries down less than a third of one (common practice, no source)',
      ),
    doseSpread: share()
      .default(0.15)
      .describe('Salt drawn at one regeneration deviates so much from the usual. A guess, no source'),
    refillsKept: z
      .int()
      .min(1)
      .default(8)
      .describe('A year or two of refills: a household may change its ways'),
  });

/** The salt in a unit's tank, how fast it goes, and when the household refills. A unit without a level sensor has none. */
export interface SaltUse {
  /** Salt in the tank by all readings together, lb, and the variance of that, lb²; null before the first reading. */
  readonly lb: number | null;
  readonly variance: number;
  /** A reading far off, lb: a refill, or nothing. The next one will tell. */
  readonly odd: number | null;
  /** When the last reading became known. */
  readonly readAt: Instant | null;
  /** Whether the sensor sticks, as far as its readings show. */
  readonly stuck: boolean;
  /** Treated water a day over the last weeks, US gallons, and the days behind that. */
  readonly dailyGallons: number;
  readonly days: number;
  /** Treated water since the last regeneration, US gallons. */
  readonly gallons: number;
  /** The same of a whole cycle on the mean, and the cycles behind it. */
  readonly cycleGallons: number;
  readonly cycles: number;
  /** For how many days the salt would have lasted when the household last refilled, oldest first. */
  readonly refillDays: readonly number[];
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
export const saltUse: Memory<SaltUse> = {
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
  observe: (kept, fact, seen) => {
    const next = after(kept, fact, seen);
    return next === kept ? kept : shortened(next);
  },
};

function after(kept: SaltUse, fact: Fact, seen: Seen): SaltUse {
  switch (fact.kind) {
    case 'salt-level':
      return read(kept, fact.lb, fact.known, seen);
    case 'flow-day':
      return kept.lb === null ? kept : used(kept, fact.gallons);
    case 'regeneration':
      return regenerated(kept, fact, seen);
    case 'service-visit':
      return salted(kept, fact);
    default:
      return kept;
  }
}

/** With no more decimals than tell anything: it is stored with every unit. */
function shortened(kept: SaltUse): SaltUse {
  return {
    ...kept,
    lb: kept.lb === null ? null : hundredths(kept.lb),
    variance: Math.max(0.01, hundredths(kept.variance)),
    odd: kept.odd === null ? null : hundredths(kept.odd),
    dailyGallons: hundredths(kept.dailyGallons),
    gallons: hundredths(kept.gallons),
    cycleGallons: hundredths(kept.cycleGallons),
  };
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

function used(kept: SaltUse, gallons: number): SaltUse {
  const days = Math.min(DAYS_KEPT, kept.days + 1);
  const dailyGallons = kept.dailyGallons + (gallons - kept.dailyGallons) / days;
  return { ...kept, days, dailyGallons, gallons: kept.gallons + gallons };
}

function regenerated(kept: SaltUse, fact: Regeneration, seen: Seen): SaltUse {
  let next = kept;
  if (fact.saltBeforeLb !== undefined) next = read(next, fact.saltBeforeLb, fact.known, seen);
  if (next.lb === null)
    return fact.saltAfterLb === undefined ? next : read(next, fact.saltAfterLb, fact.known, seen);
  const { draw, bed } = seen.state;
  const doseLb = draw.usualSaltLb;
  // The level itself will tell whether a dose was drawn; a belief that is wrong must not mislead it.
  const drawn = Math.max(0.5, draw.belief.drawn);
  // A cycle with days that nobody reported says less than it seems.
  const isWhole = (bed.previous?.imputedGrains ?? 0) === 0 && next.gallons > 0;
  const cycles = isWhole ? Math.min(CYCLES_KEPT, next.cycles + 1) : next.cycles;
  next = {
    ...next,
    lb: Math.max(0, next.lb - drawn * doseLb),
    variance: next.variance + (drawn * (1 - drawn) + seen.rules.saltUse.doseSpread ** 2) * doseLb ** 2,
    odd: next.odd === null ? null : next.odd - drawn * doseLb,
    gallons: 0,
    cycles,
    cycleGallons: isWhole
      ? next.cycleGallons + (next.gallons - next.cycleGallons) / cycles
      : next.cycleGallons,
  };
  return fact.saltAfterLb === undefined ? next : read(next, fact.saltAfterLb, fact.known, seen);
}

/** Takes in a reading: a Kalman filter, to which two odd readings that agree are a refill, and one alone is nothing. */
function read(kept: SaltUse, lb: number, readAt: Instant, seen: Seen): SaltUse {
  const rules = seen.rules.saltUse;
  const { tank } = seen.state;
  const stuck = sensorWorks(tank) < 0.5;
  const next: SaltUse = { ...kept, readAt, stuck };
  const noise = noiseLb(tank) ** 2;
  // Of what happened while the sensor stuck nothing is known, so it begins anew.
  if (kept.lb === null || (kept.stuck && !stuck)) return { ...next, lb, variance: noise, odd: null };
  // What a sensor says that sticks is no news: the salt goes on as doses are drawn.
  if (stuck) return { ...next, odd: null };
  const off = lb - kept.lb;
  const variance = kept.variance + noise;
  const isOdd = Math.abs(off) > Math.max(rules.refillLb, ODD_DEVIATIONS * Math.sqrt(variance));
  if (!isOdd) {
    const gain = kept.variance / variance;
    return {
      ...next,
      odd: null,
      lb: Math.max(0, kept.lb + gain * off),
      variance: (1 - gain) * kept.variance,
    };
  }
  const agree = Math.max(rules.refillLb, ODD_DEVIATIONS * Math.sqrt(2 * noise));
  if (kept.odd === null || Math.abs(lb - kept.odd) > agree) return { ...next, odd: lb };
  const found = { ...next, odd: null, lb: Math.max(0, (lb + kept.odd) / 2), variance: noise / 2 };
  return off > 0 ? { ...found, refillDays: withRefill(kept, seen) } : found;
}

function withRefill(kept: SaltUse, { state, rules }: Seen): readonly number[] {
  const left = gallonsOfSalt(kept, state, kept.cycleGallons);
  if (left === null) return kept.refillDays;
  const days = Math.round((10 * left) / state.household.level) / 10;
  return [...kept.refillDays, days].slice(-rules.saltUse.refillsKept);
}

/** Salt that a technician brought: it is in the tank, and says nothing of the household's habit. */
function salted(kept: SaltUse, { saltAddedLb }: Extract<Fact, { kind: 'service-visit' }>): SaltUse {
  if (kept.lb === null || saltAddedLb === undefined || saltAddedLb <= 0) return kept;
  return {
    ...kept,
    lb: kept.lb + saltAddedLb,
    variance: kept.variance + (0.1 * saltAddedLb) ** 2,
    odd: null,
  };
}
