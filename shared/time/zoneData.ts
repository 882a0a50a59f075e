import { tzOffset } from '@date-fns/tz';
import type { Instant } from './instant.ts';

const MINUTE = 60_000;

/** What a zone's clocks show beyond UTC at an instant, in milliseconds. */
export type OffsetAt = (instant: Instant) => number;

/** Whether the runtime's time-zone data has a name. It is asked itself: tzOffset would read "Nowhere+02:00" as an offset. */
export function isZone(name: string): boolean {
  try {
    return new Intl.DateTimeFormat('en', { timeZone: name }) !== undefined;
  } catch {
    return false;
  }
}

/** Looks up offsets of a zone that there is, as many as `look` asks for. */
export function lookUp<Found>(name: string, look: (offsetAt: OffsetAt) => Found): Found {
  return look((instant) => tzOffset(name, new Date(instant)) * MINUTE);
}
