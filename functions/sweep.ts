import type { Round, UnitRef } from '../lib/store/store.ts';
import type { Instant } from '../shared/time/instant.ts';
import { type Zone, zoneNamed } from '../shared/time/zone.ts';
import { recordPages } from './everything.ts';
import type { Ports } from './ports.ts';
import { clockStruck } from './send.ts';

const DAY = 86_400_000;

/** The units of a company by their zones, as of a revision of its registry. */
interface Roster {
  readonly revision: string;
  readonly byZone: ReadonlyMap<Zone, readonly UnitRef[]>;
}

/**
 * The function `sweep`: has each unit looked at once after every local noon, though no fact comes. What a run misses
 * the next one does.
 */
export function sweep({ store, queues, now, log }: Ports): () => Promise<void> {
  const rosters = new Map<string, Roster>();

  const rosterOf = async ({ companyId, revision }: Round): Promise<Roster> => {
    const known = rosters.get(companyId);
    if (known?.revision === revision) return known;
    const byZone = new Map<Zone, UnitRef[]>();
    for await (const records of recordPages(store, companyId)) {
      for (const { unitId, timeZone } of records) {
        const zone = zoneNamed(timeZone);
        if (zone) byZone.set(zone, [...(byZone.get(zone) ?? []), { companyId, unitId }]);
      }
    }
    const roster = { revision, byZone };
    rosters.set(companyId, roster);
    return roster;
  };

  const sweepCompany = async (round: Round, until: Instant) => {
    // A service that has been down for long has one noon to make good, not all of them.
    const since = Math.max(round.sweptUntil ?? 0, until - DAY);
    const { byZone } = await rosterOf(round);
    const due = [...byZone].flatMap(([zone, units]) => {
      const noon = lastNoon(zone, until);
      return noon > since ? units.map((unit) => clockStruck(unit, noon)) : [];
    });
    if (due.length === 0) return;
    await queues.assess.send(due);
    await store.putSwept(round.companyId, until);
    log.info('it is noon for some units', { companyId: round.companyId, units: due.length });
  };

  return async () => {
    const until = now();
    const failures: unknown[] = [];
    for (const round of await store.rounds()) {
      await sweepCompany(round, until).catch((error: unknown) => {
        log.error('a sweep failed', { companyId: round.companyId, error: String(error) });
        failures.push(error);
      });
    }
    if (failures.length > 0) throw new AggregateError(failures, `${failures.length} sweeps failed`);
  };
}

/** The latest instant, not after `instant`, at which the clocks of a zone showed twelve. */
function lastNoon(zone: Zone, instant: Instant): Instant {
  const today = zone.dateAt(instant);
  const noon = zone.noonOf(today);
  return noon <= instant ? noon : zone.noonOf(today - 1);
}
