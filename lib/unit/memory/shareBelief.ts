import { keptShort } from './keptShort.ts';
import type { MeterShareRules } from './rules/meterShare.ts';
import type { Deviations } from './usualFlow.ts';

/**
 * What the household draws, in times its usual use: an occupant or guests left, or the season is over; somebody joined,
 * or guests came. The first is no change.
 */
const USE_TIMES = [1, 0.5, 1.6] as const;
/**
 * What became of the meter, by the share that it registers and the times of the usual that peaks are beside: nothing;
 * nothing, but peaks have risen (more pressure, a cleaned or replaced meter) or fallen (less pressure, other fixtures,
 * hardly ever to a third); and it is obstructed. At the last share it is only on its way there, and nobody need know.
 */
const METERS = [
  { share: 1, peakTimes: 1 },
  { share: 1, peakTimes: 1.3 },
  ...[0.5, 0.65, 0.8, 0.9].map((peakTimes) => ({ share: 1, peakTimes })),
  ...[0.35, 0.5, 0.65, 0.8, 0.9].map((share) => ({ share, peakTimes: 1 })),
];
const FIRST_FALLEN = 2;
const FIRST_OBSTRUCTED = 6;
const FIRST_ON_ITS_WAY = 10;
const USES = USE_TIMES.length;
const STATES = METERS.length * USES;
const OBSTRUCTED_METERS = METERS.length - FIRST_OBSTRUCTED;
/** Logarithms of the above: by meter of what it misses and of its peaks, by household of its use. */
const MISSED = METERS.map(({ share }) => Math.log(share));
const PEAKS = METERS.map(({ share, peakTimes }) => Math.log(share * peakTimes));
const DRAWN = USE_TIMES.map(Math.log);
/** The first meter that has the same peaks as each: fallen and missed ones look alike there. */
const SAME_PEAKS = PEAKS.map((peak) => PEAKS.indexOf(peak));

const DAYS_A_YEAR = 365.25;
const SQRT_TWO_PI = Math.sqrt(2 * Math.PI);
/** An obstructed turbine misses the slow and the short draws: what it counts of draws is its share to this power. A guess. */
const DRAWS_COUNTED = 0.4;
/** What an odd day's deviation may be anywhere in: logarithms, and hours. */
const RANGE = { peak: 3, use: 4, hours: 24 } as const;

/**
 * Probability of each state, by meter and then by household; they sum to 1. A hidden Markov model: Shiryaev's recursion
 * with several changes to be told apart, the harmless ones beside the others.
 */
export type ShareBelief = number[];

/** Of a meter that was just found sound. */
export function soundBelief(): ShareBelief {
  return Array.from({ length: STATES }, (_, state) => (state === 0 ? 1 : 0));
}

/** Probability that the meter is obstructed so far that it is worth a word. */
export function obstructed(belief: readonly number[]): number {
  let sum = 0;
  for (let state = FIRST_OBSTRUCTED * USES; state < FIRST_ON_ITS_WAY * USES; state++) {
    sum += belief[state] ?? 0;
  }
  return keptShort(sum);
}

/** Mean share that it registers if it is; 1 where nothing speaks for it. */
export function meanShare(belief: readonly number[]): number {
  let weights = 0;
  let sum = 0;
  for (let state = FIRST_OBSTRUCTED * USES; state < FIRST_ON_ITS_WAY * USES; state++) {
    const weight = belief[state] ?? 0;
    weights += weight;
    sum += weight * (METERS[Math.floor(state / USES)]?.share ?? 1);
  }
  return weights > 0 ? sum / weights : 1;
}

/** What may begin or end from one day to the next, written to the belief of the first. */
export function passDay(belief: ShareBelief, rules: MeterShareRules) {
  const changes = rules.useChangesPerUnitYear / DAYS_A_YEAR / (USES - 1);
  for (let usual = 0; usual < STATES; usual += USES) {
    const often = (belief[usual] ?? 0) * changes;
    for (let state = usual + 1; state < usual + USES; state++) {
      move(belief, usual, state, often - (belief[state] ?? 0) * rules.useBackADay);
    }
  }
  for (let use = 0; use < USES; use++) passMeters(belief, use, rules);
}

/** The same for the meter, the household being as it is: one pass over its states, from the first to the last. */
function passMeters(states: number[], use: number, rules: MeterShareRules) {
  const { clearsADay, peakBackADay, easesADay, deepensADay } = rules;
  const change = rules.peakChangesPerUnitYear / DAYS_A_YEAR / (FIRST_OBSTRUCTED - 1);
  const onset = rules.obstructionsPerUnitYear / DAYS_A_YEAR / OBSTRUCTED_METERS;
  const wasUsual = states[use] ?? 0;
  let usual = wasUsual - wasUsual * onset * OBSTRUCTED_METERS;
  let sound = wasUsual;
  // What the state at hand was before the day, and what it is by now.
  let was = states[use + USES] ?? 0;
  let now = was;
  for (let meter = 1; meter < METERS.length; meter++) {
    const at = meter * USES + use;
    const isObstructed = meter >= FIRST_OBSTRUCTED;
    if (isObstructed) {
      now += sound * onset;
    } else {
      sound += was;
      now -= was * onset * OBSTRUCTED_METERS;
    }
    const begins = isObstructed ? -was * clearsADay : wasUsual * change - was * peakBackADay;
    usual -= begins;
    now += begins;
    if (meter === METERS.length - 1) {
      states[at] = now;
      break;
    }
    const wasNext = states[at + USES] ?? 0;
    // Whatever makes peaks fall may take its time: neither story is to win by being the better at that.
    const isStep = meter !== FIRST_FALLEN - 1 && meter !== FIRST_OBSTRUCTED - 1;
    const eases = isStep ? was * easesADay - wasNext * deepensADay : 0;
    states[at] = now - eases;
    now = wasNext + eases;
    was = wasNext;
  }
  states[use] = usual;
}

function move(states: number[], from: number, to: number, mass: number) {
  states[from] = (states[from] ?? 0) - mass;
  states[to] = (states[to] ?? 0) + mass;
}

/** Bayes' rule over a day, written to the belief before it. */
export function weighDay(belief: ShareBelief, day: Deviations, rules: MeterShareRules) {
  const { oddPeaks, peakWeight } = rules;
  const height = heightOf(day.peakSpread, oddPeaks);
  const odd = oddPeaks / RANGE.peak;
  const hoursHeight = heightOf(day.hoursSpread, rules.oddHours);
  const useHeight = heightOf(day.useSpread, rules.oddUse);
  let sum = 0;
  for (let meter = 0; meter < METERS.length; meter++) {
    // What the sound ones have in common is worked out once: this runs on each day of each unit.
    if (meter === 0 || meter >= FIRST_OBSTRUCTED)
      weighBesidePeak(day, MISSED[meter] ?? 0, hoursHeight, useHeight, rules);
    const same = SAME_PEAKS[meter] ?? meter;
    if (same === meter) {
      // Use is short by the share as well, so it explains a part of the fall of the peak.
      const z = (day.peak - (1 - day.peakSlope) * (PEAKS[meter] ?? 0)) / day.peakSpread;
      const density = height * Math.exp(-0.5 * z * z) + odd;
      peaks[meter] = peakWeight === 1 ? density : density ** peakWeight;
    }
    const ofPeak = peaks[same] ?? 0;
    for (let use = 0; use < USES; use++) {
      const state = meter * USES + use;
      const weight = (belief[state] ?? 0) * ofPeak * (besidePeak[use] ?? 0);
      belief[state] = weight;
      sum += weight;
    }
  }
  for (let state = 0; state < STATES; state++) belief[state] = keptShort((belief[state] ?? 0) / sum);
}

// One for all days, since an array for each is dear:
/** Likelihood of a day's peak, by meter. */
const peaks = new Float64Array(METERS.length);
/** What {@link weighBesidePeak} found last, by household. */
const besidePeak = new Float64Array(USES);

/** Likelihood of a day's use and hours with flow by what became of the household, where the meter misses so much. */
function weighBesidePeak(
  day: Deviations,
  missed: number,
  hoursHeight: number,
  useHeight: number,
  rules: MeterShareRules,
) {
  const { oddHours, hoursWeight, oddUse, useWeight } = rules;
  let ofHours = 0;
  if (day.hours !== null) {
    // Of the hours with flow fewer are missing than a use so small would have.
    const z = (day.hours - (DRAWS_COUNTED - 1) * missed * day.hoursSlope) / day.hoursSpread;
    const density = hoursHeight * Math.exp(-0.5 * z * z) + oddHours / RANGE.hours;
    ofHours = logOfPower(density, hoursWeight);
  }
  const odd = oddUse / RANGE.use;
  for (let use = 0; use < USES; use++) {
    const z = (day.use - (DRAWN[use] ?? 0) - missed) / day.useSpread;
    besidePeak[use] = Math.exp(ofHours + logOfPower(useHeight * Math.exp(-0.5 * z * z) + odd, useWeight));
  }
}

/** Logarithm of a power: a power itself is dearer than a logarithm and an exponential together. */
function logOfPower(density: number, weight: number): number {
  return weight === 0 ? 0 : weight * Math.log(density);
}

/** Density at its mean of a normal beside which a share of days is odd. */
function heightOf(spread: number, odd: number): number {
  return (1 - odd) / (spread * SQRT_TWO_PI);
}

/** A visit found the meter sound, with such a probability, or made it so. */
export function visited(belief: ShareBelief, probability: number) {
  for (let state = FIRST_OBSTRUCTED * USES; state < STATES; state++) {
    move(belief, state, state % USES, (belief[state] ?? 0) * probability);
  }
  for (let state = 0; state < STATES; state++) belief[state] = keptShort(belief[state] ?? 0);
}
