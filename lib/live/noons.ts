import type { Instant } from '../../shared/time/instant.ts';
import type { Zone } from '../../shared/time/zone.ts';

/** The first local noon of a zone that is later than an instant. */
export function noonAfter(zone: Zone, instant: Instant): Instant {
  const date = zone.dateAt(instant);
  const noon = zone.noonOf(date);
  return noon > instant ? noon : zone.noonOf(date + 1);
}
