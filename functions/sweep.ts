import type { Instant } from '../shared/time/instant.ts';
import { type Zone, zoneNamed } from '../shared/time/zone.ts';
import { recordPages } from './everything.ts';
import type { Ports } from './ports.ts';
import { touched } from './send.ts';

const DAY = 86_400_000;
const NOON = DAY / 2;

/**
 * The function `sweep`: has each unit looked at once after every local noon, though no fact comes. What a run misses
 * the next one does.
 */
export function sweep({ store, queues, now, log }: Ports): () => Promise<void> {
  const sweepCompany = async (companyId: string, until: Instant) => {
    // A service that has been down for long has one noon to make good, not all of them.
    const since = Math.max((await store.swept(companyId)) ?? 0, until - DAY);
    let units = 0;
    for await (const records of recordPages(store, companyId)) {
      const due = records.filter(({ timeZone }) => {
        const zone = zoneNamed(timeZone);
        return zone !== undefined && lastNoon(zone, until) > since;
      });
      if (due.length > 0) await queues.assess.send(due.map((record) => touched(record)));
      units += due.length;
    }
    await store.putSwept(companyId, until);
    if (units > 0) log.info('units are looked at, for it is noon there', { companyId, units });
  };

  return async () => {
    const until = now();
    const failures: unknown[] = [];
    for (const { companyId } of await store.companies()) {
      await sweepCompany(companyId, until).catch((error: unknown) => {
        log.error('a sweep failed', { companyId, error: String(error) });
        failures.push(error);
      });
    }
    if (failures.length > 0) throw new AggregateError(failures, `${failures.length} sweeps failed`);
  };
}

/** The latest instant, not after `instant`, at which the clocks of a zone showed twelve. */
export function lastNoon(zone: Zone, instant: Instant): Instant {
  const today = zone.dateAt(instant);
  const noons = [today - 1, today].map((date) => {
    const local = date * DAY + NOON;
    return local - zone.offsetAt(local - zone.offsetAt(zone.startOf(date)));
  });
  return noons.findLast((noon) => noon <= instant) ?? noons[0] ?? instant;
}
