import { formatInstant } from '../../shared/time/instant.ts';
import { flowDay, regeneration, type Wire, wire, zoneOf } from './events.ts';
import { unitRecord } from './fleet.ts';

/** 2026-03-01, a Sunday, a week before the clocks change. */
const FIRST_DATE = 20_513;
const DAYS = 28;
const UNIT_IDS = ['u-17', 'u-18', 'u-19'];

/** A few units that differ in their use; the last has a meter that stalls half-way. */
export const records = UNIT_IDS.map((unitId, index) =>
  unitRecord({ unitId, siteId: `site-${unitId}`, region: index === 0 ? 'alder-county' : 'high-basin' }),
);

/** Some weeks of that fleet, by the instant at which they became known. */
export const events: Wire[] = UNIT_IDS.flatMap((unitId, index) => storyOf(unitId, index)).sort((a, b) =>
  (a.recordedtime ?? a.time) < (b.recordedtime ?? b.time) ? -1 : 1,
);

export const lines = events.map((event) => JSON.stringify(event));

/** An event of a unit of the fleet, with whatever is to be wrong about it. */
export function event(over: Record<string, unknown>): string {
  const time = Date.UTC(2026, 2, 20, 12);
  return JSON.stringify({
    ...wire('salt-level', 'odd', time, { mass: { value: 40, unit: '[lb_av]' } }, time + 60_000),
    ...over,
  });
}

function storyOf(unitId: string, index: number): Wire[] {
  const zone = zoneOf('America/New_York');
  return Array.from({ length: DAYS }, (_, day) => {
    const date = FIRST_DATE + day;
    const stalled = index === 2 && day > DAYS / 2;
    const gallons = stalled ? 0 : 120 + ((day * 37 + index * 53) % 90);
    const salt = wire('salt-level', `salt-${date}`, zone.startOf(date) + 3.6e6 * 8, {
      mass: { value: 120 - day - (day % 3), unit: '[lb_av]' },
    });
    const regenerated = day % 5 === index && !stalled ? [regeneration(zone, date, 2)] : [];
    return [...regenerated, salt, flowDay(zone, date, gallons)];
  })
    .flat()
    .map((each) => ({ ...each, source: `/companies/fenwick-water/units/${unitId}` }));
}

/** A copy of an event that the service received again, so many days after the first. */
export function receivedAgain(copied: Wire, days: number): Wire {
  const known = Date.parse(copied.recordedtime ?? copied.time);
  return { ...copied, recordedtime: formatInstant(known + days * 86_400_000) };
}
