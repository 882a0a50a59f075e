import type { Instant } from '../../shared/time/instant.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';
import type { Zone } from '../../shared/time/zone.ts';

const HOUR = 3_600_000;
const DAY = 24 * HOUR;

/**
 * The first instant at which the clocks of a zone show an hour of a date, 0 to just under 24, to the second. Where
 * they skip it, as long after the change as it was skipped: half past two becomes half past three.
 */
export function instantAt(zone: Zone, date: LocalDate, hour: number): Instant {
  const local = Math.round((date * DAY + hour * HOUR) / 1000) * 1000;
  const before = zone.offsetAt(zone.startOf(date));
  const after = zone.offsetAt(zone.startOf(date + 1) - 1);
  const early = local - before;
  const late = local - after;
  return zone.offsetAt(early) !== before && zone.offsetAt(late) === after ? late : early;
}

/** The instant at which a clock that nobody sets to summer time shows an hour of a date. */
export function winterInstantAt(zone: Zone, date: LocalDate, hour: number): Instant {
  return date * DAY + hour * HOUR - winterOffset(zone, date);
}

/** What the clocks of a northern zone show beyond UTC in the winter of a date's year, in milliseconds. */
export function winterOffset(zone: Zone, date: LocalDate): number {
  const year = new Date(date * DAY).getUTCFullYear();
  return zone.offsetAt(Date.UTC(year, 0, 15));
}
