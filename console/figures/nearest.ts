import type { Reading } from './drawing.ts';

/** The index of the reading that is nearest to a place of the axis. -1 if there is none. */
export function nearest(readings: readonly Reading[], at: number): number {
  let best = readings.length - 1;
  for (const [index, reading] of readings.entries()) {
    if (Math.abs(reading.at - at) < Math.abs((readings[best]?.at ?? Number.POSITIVE_INFINITY) - at))
      best = index;
  }
  return best;
}
