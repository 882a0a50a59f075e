import { shareBefore } from '../demand/dayShare.ts';
import type { Chance } from './chance.ts';

/** How a day's water flowed, as a meter sees it beside the volume. */
export interface DayOfFlow {
  readonly peakGpm: number;
  readonly flowHours: number;
  readonly longestFlowMinutes: number;
}

/**
 * Draws come in bouts of about this much: at 185 gallons a day that gives flow in 16.3 hours, as the AMPds2 house has it
 * in 16.4 (fixtures/ampds2-house, 31.5 % of hours without).
 */
const GALLONS_A_BOUT = 5;
const SHARE_OF_HOUR = Array.from({ length: 24 }, (_, hour) => shareBefore(hour + 1) - shareBefore(hour));
/**
 * An obstructed turbine counts less of each draw and passes over the short and the slow ones: its share of the bouts is
 * its share of the water to the power of 1 less this. Invented.
 */
const MISSED_BOUTS = 0.6;
/** Below this a day is a trickle: an icemaker, no tap. US gallons. */
const TRICKLE_GALLONS = 7;

/**
 * Makes up the flow of one day from what the meter counted: bouts of draws, spread over the hours as households
 * spread them; a sticking meter misses the slow and the short ones.
 *
 * @param registered share of the water that the meter registers, 0 to 1
 * @param usualPeakGpm the unit's usual peak
 */
export function flowOfDay(
  countedGallons: number,
  registered: number,
  usualPeakGpm: number,
  chance: Chance,
): DayOfFlow {
  if (countedGallons <= 0) return { peakGpm: 0, flowHours: 0, longestFlowMinutes: 0 };
  const bouts = countedGallons / registered ** MISSED_BOUTS / GALLONS_A_BOUT;
  const flowHours = SHARE_OF_HOUR.filter((share) => chance.happens(1 - Math.exp(-bouts * share))).length;
  const trickle = countedGallons < TRICKLE_GALLONS;
  const peakGpm = trickle ? chance.uniform(0.2, 0.6) : usualPeakGpm * chance.uniform(0.6, 1.15) * registered;
  const longest = Math.min(chance.gamma(trickle ? 3 : 13, 0.5), countedGallons / (0.4 * peakGpm));
  return { peakGpm, flowHours: Math.max(1, flowHours), longestFlowMinutes: Math.round(longest) };
}

/**
 * The same with a fixture that runs without a pause, into the day or out of it.
 *
 * @param leak for how many hours by the clock, 24 for all day, and how fast as the meter counts it
 * @param hoursOfDay how many hours the day truly has
 */
export function withLeak(
  { peakGpm, flowHours, longestFlowMinutes }: DayOfFlow,
  leak: { hours: number; gpm: number },
  hoursOfDay: number,
): DayOfFlow {
  const running = leak.hours < 24 ? leak.hours : hoursOfDay;
  return {
    peakGpm: peakGpm + leak.gpm,
    flowHours: Math.min(Math.floor(hoursOfDay), Math.max(flowHours, Math.ceil(running))),
    longestFlowMinutes: Math.max(longestFlowMinutes, Math.round(60 * running)),
  };
}
