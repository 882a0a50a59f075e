import type { Instant } from '../../shared/time/instant.ts';
import type { Alarm } from './alarm.ts';

/** The stretch in which the published targets count alarms. */
const SLOT_MS = 600_000;
/** A flood begins with more alarms than this in a slot, and ends with fewer than that (ISA-18.2-2016, 16.4.4). */
const FLOOD_BEGINS_ABOVE = 10;
const FLOOD_ENDS_BELOW = 5;

/** How densely alarms came. Shares are of the time, 0 to 1. */
export interface Density {
  /** The most alarms within any ten minutes, wherever they begin. */
  readonly peak: number;
  /** Slots of ten minutes, counted from the begin of the window, with more than ten alarms. */
  readonly busySlots: number;
  readonly timeInFlood: number;
}

/** How densely the alarms of a window came; `alarms` were all raised from `from` on and before `until`. */
export function densityOf(alarms: readonly Alarm[], from: Instant, until: Instant): Density {
  const raised = alarms.map(({ raisedAt }) => raisedAt).sort((a, b) => a - b);
  const slots = new Array<number>(Math.max(1, Math.ceil((until - from) / SLOT_MS))).fill(0);
  for (const at of raised) {
    const slot = Math.floor((at - from) / SLOT_MS);
    slots[slot] = (slots[slot] ?? 0) + 1;
  }
  return {
    peak: peakOf(raised),
    busySlots: slots.filter((count) => count > FLOOD_BEGINS_ABOVE).length / slots.length,
    timeInFlood: floodedSlots(slots) / slots.length,
  };
}

function floodedSlots(slots: readonly number[]): number {
  let flooded = 0;
  let inFlood = false;
  for (const count of slots) {
    inFlood = inFlood ? count >= FLOOD_ENDS_BELOW : count > FLOOD_BEGINS_ABOVE;
    if (inFlood) flooded += 1;
  }
  return flooded;
}

function peakOf(raised: readonly Instant[]): number {
  let first = 0;
  return raised.reduce((peak, at, index) => {
    while (at - (raised[first] ?? at) >= SLOT_MS) first += 1;
    return Math.max(peak, index - first + 1);
  }, 0);
}
