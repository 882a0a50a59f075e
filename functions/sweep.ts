import type { Round, UnitRef } from '../lib/store/store.ts';
import type { Instant } from '../shared/time/instant.ts';
import { formatLocalDate } from '../shared/time/localDate.ts';
import { type Zone, zoneNamed } from '../shared/time/zone.ts';
import { recordPages } from './everything.ts';
import type { Outgoing, Ports } from './ports.ts';
import { clockStruck, visitNotice } from './send.ts';

const DAY = 86_400_000;
/** From six in the morning to noon; no zone changes its clocks in between. */
const MORNING = 6 * 3_600_000;

/** The units of a company by their zones, as of a revision of its registry. */
interface Roster {
  readonly revision: string;
  readonly byZone: ReadonlyMap<Zone, readonly UnitRef[]>;
  readonly zones: ReadonlyMap<string, Zone>;
}

/**
 * The function `sweep`: has each unit looked at once after every local noon, though no fact comes, and technicians told of
 * the visits of a day at six of its morning. What a run misses the next one does.
 */
export function sweep({ store, queues, now, log }: Ports): () => Promise<void> {
  const rosters = new Map<string, Roster>();

  const rosterOf = async ({ companyId, revision }: Round): Promise<Roster> => {
    const known = rosters.get(companyId);
    if (known?.revision === revision) return known;
    const byZone = new Map<Zone, UnitRef[]>();
    const zones = new Map<string, Zone>();
    for await (const records of recordPages(store, companyId)) {
      for (const { unitId, timeZone } of records) {
        const zone = zoneNamed(timeZone);
        if (!zone) continue;
        zones.set(unitId, zone);
        const units = byZone.get(zone);
        if (units) units.push({ companyId, unitId });
        else byZone.set(zone, [{ companyId, unitId }]);
      }
    }
    const roster = { revision, byZone, zones };
    rosters.set(companyId, roster);
    return roster;
  };

  /** Word of the visits on the days whose morning has come. */
  const visitsOf = async (
    companyId: string,
    mornings: ReadonlyMap<Zone, string>,
    zones: Roster['zones'],
  ): Promise<Outgoing[]> => {
    const dates = [...mornings.values()].sort();
    const [from] = dates;
    const to = dates.at(-1);
    if (from === undefined || to === undefined) return [];
    const planned = await store.visitsOn(companyId, from, to);
    return planned.flatMap(({ unitId, visit }) => {
      const zone = zones.get(unitId);
      const isToday = zone !== undefined && mornings.get(zone) === visit.date;
      return isToday ? [visitNotice({ companyId, unitId }, visit, 'morning')] : [];
    });
  };

  const sweepCompany = async (round: Round, until: Instant) => {
    // A service that has been down for long has one noon to make good, not all of them.
    const since = Math.max(round.sweptUntil ?? 0, until - DAY);
    const { byZone, zones } = await rosterOf(round);
    const due = [...byZone].flatMap(([zone, units]) => {
      const noon = lastNoon(zone, until);
      return noon > since ? units.map((unit) => clockStruck(unit, noon)) : [];
    });
    const mornings = new Map(
      [...byZone.keys()].flatMap((zone) => {
        const morning = lastMorning(zone, until);
        return morning > since ? [[zone, formatLocalDate(zone.dateAt(morning))] as const] : [];
      }),
    );
    if (due.length === 0 && mornings.size === 0) return;
    const told = await visitsOf(round.companyId, mornings, zones);
    if (due.length > 0) await queues.assess.send(due);
    if (told.length > 0) await queues.notify.send(told);
    await store.putSwept(round.companyId, until);
    log.info('it is noon or morning for some units', {
      companyId: round.companyId,
      noons: due.length,
      visits: told.length,
    });
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

/** The latest instant, not after `instant`, at which the clocks of a zone showed six in the morning. */
function lastMorning(zone: Zone, instant: Instant): Instant {
  return lastNoon(zone, instant + MORNING) - MORNING;
}

/** The latest instant, not after `instant`, at which the clocks of a zone showed twelve. */
function lastNoon(zone: Zone, instant: Instant): Instant {
  const today = zone.dateAt(instant);
  const noon = zone.noonOf(today);
  return noon <= instant ? noon : zone.noonOf(today - 1);
}
