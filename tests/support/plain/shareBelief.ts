import { keptShort } from '../../../lib/unit/memory/keptShort.ts';
import type { MeterShareRules } from '../../../lib/unit/memory/rules/meterShare.ts';
import type { Deviations } from '../../../lib/unit/memory/usualFlow.ts';

/*
 * The recursion of lib/unit/memory/shareBelief.ts in its plain form, one step after the other: arrays are made as they
 * are needed, powers are powers. The states and their meaning are told there.
 */
const USE_TIMES = [1, 0.5, 1.6] as const;
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
const MISSED = METERS.map(({ share }) => Math.log(share));
const PEAKS = METERS.map(({ share, peakTimes }) => Math.log(share * peakTimes));
const DRAWN = USE_TIMES.map(Math.log);

const DAYS_A_YEAR = 365.25;
const DRAWS_COUNTED = 0.4;
const RANGE = { peak: 3, use: 4, hours: 24 } as const;

/** What may begin or end from one day to the next. */
export function plainPassDay(belief: readonly number[], rules: MeterShareRules): number[] {
  const next = [...belief];
  const changes = rules.useChangesPerUnitYear / DAYS_A_YEAR / (USES - 1);
  for (let usual = 0; usual < STATES; usual += USES) {
    const often = (belief[usual] ?? 0) * changes;
    for (let state = usual + 1; state < usual + USES; state++) {
      move(next, usual, state, often - (belief[state] ?? 0) * rules.useBackADay);
    }
  }
  for (let use = 0; use < USES; use++) passMeters(next, use, rules);
  return next;
}

/** The same for the meter, the household being as it is. */
function passMeters(states: number[], use: number, rules: MeterShareRules) {
  const was = METERS.map((_, meter) => states[meter * USES + use] ?? 0);
  const change = rules.peakChangesPerUnitYear / DAYS_A_YEAR / (FIRST_OBSTRUCTED - 1);
  const onset = rules.obstructionsPerUnitYear / DAYS_A_YEAR / (METERS.length - FIRST_OBSTRUCTED);
  let sound = 0;
  for (let meter = 0; meter < METERS.length; meter++) {
    const mass = was[meter] ?? 0;
    const at = meter * USES + use;
    if (meter < FIRST_OBSTRUCTED) {
      sound += mass;
      states[at] = (states[at] ?? 0) - mass * onset * (METERS.length - FIRST_OBSTRUCTED);
    } else {
      states[at] = (states[at] ?? 0) + sound * onset;
    }
    if (meter === 0) continue;
    const isObstructed = meter >= FIRST_OBSTRUCTED;
    const begins = isObstructed ? 0 : (was[0] ?? 0) * change;
    move(states, use, at, begins - mass * (isObstructed ? rules.clearsADay : rules.peakBackADay));
    // Whatever makes peaks fall may take its time: neither story is to win by being the better at that.
    if (meter === FIRST_FALLEN - 1 || meter === FIRST_OBSTRUCTED - 1 || meter === FIRST_ON_ITS_WAY) continue;
    move(states, at, at + USES, mass * rules.easesADay - (was[meter + 1] ?? 0) * rules.deepensADay);
  }
}

function move(states: number[], from: number, to: number, mass: number) {
  states[from] = (states[from] ?? 0) - mass;
  states[to] = (states[to] ?? 0) + mass;
}

/** Bayes' rule over a day. */
export function plainWeighDay(before: readonly number[], day: Deviations, rules: MeterShareRules): number[] {
  const { oddPeaks, peakWeight } = rules;
  const after = [...before];
  // What the sound ones have in common is worked out once: this runs on each day of each unit.
  let beside: readonly number[] = [];
  let sum = 0;
  for (let meter = 0; meter < METERS.length; meter++) {
    if (meter === 0 || meter >= FIRST_OBSTRUCTED) beside = besidePeak(day, MISSED[meter] ?? 0, rules);
    // Use is short by the share as well, so it explains a part of the fall of the peak.
    const peak = day.peak - (1 - day.peakSlope) * (PEAKS[meter] ?? 0);
    const ofPeak = density(peak, day.peakSpread, oddPeaks, RANGE.peak) ** peakWeight;
    for (let use = 0; use < USES; use++) {
      const state = meter * USES + use;
      const weight = (before[state] ?? 0) * ofPeak * (beside[use] ?? 0);
      after[state] = weight;
      sum += weight;
    }
  }
  for (let state = 0; state < STATES; state++) after[state] = keptShort((after[state] ?? 0) / sum);
  return after;
}

/** Likelihood of a day's use and hours with flow by what became of the household, where the meter misses so much. */
function besidePeak(day: Deviations, missed: number, rules: MeterShareRules): number[] {
  const { oddHours, hoursWeight, oddUse, useWeight } = rules;
  // Of the hours with flow fewer are missing than a use so small would have.
  const hours = day.hours === null ? null : day.hours - (DRAWS_COUNTED - 1) * missed * day.hoursSlope;
  const ofHours = hours === null ? 1 : density(hours, day.hoursSpread, oddHours, RANGE.hours) ** hoursWeight;
  const likelihoods: number[] = [];
  for (let state = 0; state < USES; state++) {
    const use = day.use - (DRAWN[state] ?? 0) - missed;
    likelihoods.push(ofHours * density(use, day.useSpread, oddUse, RANGE.use) ** useWeight);
  }
  return likelihoods;
}

/** A normal with a share of days that are odd, and then anywhere in a range. */
function density(deviation: number, spread: number, odd: number, range: number): number {
  const z = deviation / spread;
  return ((1 - odd) * Math.exp(-0.5 * z * z)) / (spread * Math.sqrt(2 * Math.PI)) + odd / range;
}
