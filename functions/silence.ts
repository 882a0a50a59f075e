import type { FleetEvent, SilentAlert } from '../lib/alarms/fleetEvent.ts';
import type { Store } from '../lib/store/store.ts';
import { type Instant, parseInstant } from '../shared/time/instant.ts';
import { alertsSince } from './companyAlarms.ts';
import { recordPages } from './everything.ts';
import type { NoticeMessage } from './noticeMessages.ts';

/** How long a notice of a silent unit waits, so that the others of its region have been looked at by then. */
const HOLD_MS = 30_000;
/** Alerts that cleared before then belong to no event that goes on. */
const RECENT_MS = 3 * 86_400_000;
/** So long the alerts of a company are remembered: where thousands fall silent, each notice needs the same. A guess, no source. */
const REMEMBERED_MS = 60_000;

/** Thrown for a notice that comes too early to tell whether it is one of many; it comes back. */
export class HeldError extends Error {
  readonly code = 'held';
}

/**
 * Holds a notice back that is of a silent unit and that was sent a moment ago. It comes back several times meanwhile, so
 * this is asked before most is read for it.
 *
 * @throws HeldError where it is too early to tell whether it is one of many
 */
export function holdBack({ alert }: NoticeMessage, sentAt: Instant, now: Instant): void {
  if (alert.kind === 'silent-unit' && now < sentAt + HOLD_MS) {
    throw new HeldError('it waits for the others of its region');
  }
}

type CompanyAlerts = Awaited<ReturnType<typeof alertsSince>>;

/** The regions of a company's units, as of a revision of its registry. */
interface Regions {
  readonly revision: string;
  readonly regionOf: ReadonlyMap<string, string>;
  readonly units: ReadonlyMap<string, number>;
}

/** Tells one unit that fell silent from many at once, behind which is one thing: the carrier, a gateway. */
export class Silence {
  readonly #store: Store;
  readonly #regions = new Map<string, Regions>();
  /** Of one company, since many of one come together. */
  #known: { companyId: string; at: Instant; alerts: Promise<CompanyAlerts> } | undefined;

  constructor(store: Store) {
    this.#store = store;
  }

  /**
   * Whether people are to be told of a change of a silent-unit alert. Whatever comes late takes silence back: a history that
   * is sent in portions raises and withdraws an alert with each. So what is over by the time that {@link holdBack} lets it
   * through is not told of, nor then that it is over. From the first that is told of an alert on, it is noted.
   */
  async isNews(message: NoticeMessage): Promise<boolean> {
    const { change, alertId } = message;
    if (change === 'cleared' || change === 'withdrawn') return this.#store.wasTold(message, alertId);
    const stored = await this.#store.alert(message, alertId);
    if (stored?.alert.clearedAt !== null) return false;
    await this.#store.putTold(message, alertId);
    return true;
  }

  /**
   * The event that a change of a silent-unit alert is part of, if it is of one; {@link holdBack} has let it through.
   *
   * @param sentAt when the notice was sent
   */
  async eventOf(message: NoticeMessage, sentAt: Instant, now: Instant): Promise<FleetEvent | undefined> {
    if (message.alert.kind !== 'silent-unit') return undefined;
    // Only now: it works with distributions, which no other notice needs.
    const { placeOfSilent } = await import('../lib/alarms/fleetEvent.ts');
    const { companyId, unitId } = message;
    const { regionOf, units } = await this.#regionsOf(companyId);
    const region = regionOf.get(unitId);
    if (region === undefined) return undefined;
    const alerts = await this.#alertsOf(companyId, { from: sentAt + HOLD_MS, now });
    const others = alerts
      .filter(({ alert }) => alert.kind === 'silent-unit' && regionOf.get(alert.unitId) === region)
      .map(({ alert }) => silentOf(alert));
    const place = placeOfSilent(silentOf(message.alert), others, { region, units: units.get(region) ?? 0 });
    return place.part === 'event' ? place.event : undefined;
  }

  /** The company's alerts as they were no earlier than an instant. */
  #alertsOf(companyId: string, { from, now }: { from: Instant; now: Instant }): Promise<CompanyAlerts> {
    const known = this.#known;
    if (known?.companyId === companyId && known.at >= from && now < known.at + REMEMBERED_MS)
      return known.alerts;
    const alerts = alertsSince(this.#store, companyId, now - RECENT_MS);
    this.#known = { companyId, at: now, alerts };
    alerts.catch(() => {
      if (this.#known?.alerts === alerts) this.#known = undefined;
    });
    return alerts;
  }

  async #regionsOf(companyId: string): Promise<Regions> {
    const known = this.#regions.get(companyId);
    const revision = await this.#store.revision(companyId);
    if (known?.revision === revision) return known;
    const regionOf = new Map<string, string>();
    const units = new Map<string, number>();
    for await (const records of recordPages(this.#store, companyId)) {
      for (const { unitId, region } of records) {
        regionOf.set(unitId, region);
        units.set(region, (units.get(region) ?? 0) + 1);
      }
    }
    const regions = { revision, regionOf, units };
    this.#regions.set(companyId, regions);
    return regions;
  }
}

function silentOf({ unitId, raisedAt, clearedAt }: NoticeMessage['alert']): SilentAlert {
  return {
    unitId,
    raisedAt: parseInstant(raisedAt) ?? 0,
    clearedAt: clearedAt === null ? null : (parseInstant(clearedAt) ?? 0),
  };
}
