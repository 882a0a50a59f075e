import type { Instant } from '../../shared/time/instant.ts';
import type { Zone } from '../../shared/time/zone.ts';

const NOON = 12;

/** The first local noon of a zone that is later than an instant. */
export function noonAfter(zone: Zone, instant: Instant): Instant {
  const date = zone.dateAt(instant);
  return zone.noonOf(zone.hourAt(instant) < NOON ? date : date + 1);
}
