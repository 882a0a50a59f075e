import type { Instant } from '../../shared/time/instant.ts';
import type { Zone } from '../../shared/time/zone.ts';

/** The local noons of a zone after one instant and up to another, the latter in it, date by date. */
export function noonsBetween(zone: Zone, after: Instant, upTo: Instant): Instant[] {
  const noons: Instant[] = [];
  for (let date = zone.dateAt(after); ; date++) {
    const noon = zone.noonOf(date);
    if (noon > upTo) return noons;
    if (noon > after) noons.push(noon);
  }
}
