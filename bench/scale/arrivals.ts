import cdf from '@stdlib/stats-base-dists-normal-cdf';
import type { Bucket } from './simulator/bucket.ts';
import type { Timeline } from './simulator/timeline.ts';

/** When meters report, counted from the first zone's midnight. */
export interface Reporting {
  readonly meters: number;
  /** Zones by how much later their midnight is, hours, and their share of the meters. */
  readonly zones: readonly { readonly laterHours: number; readonly share: number }[];
  /** How far meters' clocks are off: standard deviation of a normal distribution, seconds. */
  readonly clockSeconds: number;
  /** Over how long each meter waits after its midnight, uniform, seconds: by design, not by accident. */
  readonly spreadSeconds: number;
}

/** Shares of people by time zone of the contiguous United States, rounded; from memory, unverified. */
export const US_ZONES = [
  { laterHours: 0, share: 0.48 },
  { laterHours: 1, share: 0.29 },
  { laterHours: 2, share: 0.07 },
  { laterHours: 3, share: 0.16 },
];

const SLOT = 0.25;
/** Clocks are no further off than so many standard deviations. */
const FURTHEST = 4;

/** How many messages come in each quarter of a second, all whole numbers; no chance in it. */
export function* slotsOf({ meters, zones, clockSeconds, spreadSeconds }: Reporting): Generator<{
  at: number;
  count: number;
}> {
  for (const { laterHours, share } of zones) {
    const midnight = laterHours * 3600;
    const reach = FURTHEST * clockSeconds;
    const slots = Math.max(1, Math.ceil((2 * reach + spreadSeconds) / SLOT));
    const whole = Math.round(meters * share);
    let before = 0;
    for (let slot = 1; slot <= slots; slot += 1) {
      const offset = slot * SLOT - reach;
      const reported =
        slot === slots ? whole : Math.round(whole * shareBefore(offset, clockSeconds, spreadSeconds));
      if (reported > before) yield { at: reach + midnight + offset - SLOT, count: reported - before };
      before = Math.max(before, reported);
    }
  }
}

/** Share of a zone's meters that have reported by an offset from its midnight. */
function shareBefore(offset: number, clockSeconds: number, spreadSeconds: number): number {
  const byClock = (at: number) => (clockSeconds === 0 ? Number(at >= 0) : cdf(at, 0, clockSeconds));
  if (spreadSeconds === 0) return byClock(offset);
  const steps = 60;
  let sum = 0;
  for (let step = 0; step < steps; step += 1) {
    sum += byClock(offset - (spreadSeconds * (step + 0.5)) / steps);
  }
  return sum / steps;
}

/**
 * Lets meters publish. What the broker has no room for is published again until it has: at once when there is room, which
 * is sooner than meters would. `bornAt` is when it was first published.
 */
export function publish(
  timeline: Timeline,
  slots: Iterable<{ at: number; count: number }>,
  limits: readonly Bucket[],
  taken: (count: number, bornAt: number) => void,
): { last(): number } {
  const waiting: { count: number; bornAt: number }[] = [];
  let from = 0;
  let isTicking = false;
  let last = 0;
  const pass = () => {
    const { now } = timeline;
    for (let first = waiting[from]; first; first = waiting[from]) {
      const room = Math.floor(Math.min(...limits.map((limit) => limit.available(now))));
      const count = Math.min(first.count, room);
      if (count <= 0) break;
      for (const limit of limits) limit.take(count, now);
      taken(count, first.bornAt);
      last = now;
      if (count < first.count) waiting[from] = { ...first, count: first.count - count };
      else from += 1;
    }
    if (from < waiting.length && !isTicking) {
      isTicking = true;
      timeline.at(now + SLOT, () => {
        isTicking = false;
        pass();
      });
    }
  };
  for (const { at, count } of slots) {
    timeline.at(at, () => {
      waiting.push({ count, bornAt: timeline.now });
      pass();
    });
  }
  return { last: () => last };
}
