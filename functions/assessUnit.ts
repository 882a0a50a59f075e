import { createHash } from 'node:crypto';
import { attentionOf } from '../lib/advice/attention.ts';
import {
  type Absorbed,
  absorb,
  closedMonths,
  type Past,
  refold,
  type Settled,
  settled,
} from '../lib/live/absorb.ts';
import { withActs } from '../lib/live/alertActs.ts';
import { type Head, newHead } from '../lib/live/head.ts';
import { alertIdOf } from '../lib/live/transitions.ts';
import type { Received } from '../lib/replay/received.ts';
import type { Attention } from '../lib/store/attention.ts';
import type { Outbox, StoredFact, UnitRef } from '../lib/store/store.ts';
import { type Episode, toAlert } from '../lib/watch/episode.ts';
import { readmit } from '../shared/readmit.ts';
import type { Unit } from '../shared/registry.ts';
import type { Instant } from '../shared/time/instant.ts';
import { toUnit } from '../shared/toUnit.ts';
import { atOnce } from './atOnce.ts';
import { basisOf, type CompanyCache, type CompanyRules } from './companyCache.ts';
import { factPages } from './everything.ts';
import { groupBy } from './groupBy.ts';
import type { Ports } from './ports.ts';
import { notices } from './send.ts';

/** A fact that touched a unit: its event's id and the key it is stored under. */
interface Touch {
  readonly id: string;
  readonly key: string;
}

interface AssessOptions {
  /** Whether a reading that may be behind will not do. */
  readonly fresh: boolean;
  /** Whether the record or the rules have just changed. */
  readonly changed: boolean;
  /** A noon that has come at its site. */
  readonly noon: Instant | undefined;
}

const READS_AT_ONCE = 8;

/** Takes stored facts of one unit into its state. */
export class AssessUnit {
  readonly #ports: Ports;
  readonly #cache: CompanyCache;

  constructor(ports: Ports, cache: CompanyCache) {
    this.#ports = ports;
    this.#cache = cache;
  }

  /**
   * Looks at one unit. The new head is one conditional put, with an outbox of what must follow from it; the outbox goes
   * when that is written too. Whoever finds one left behind finishes it first, so that nothing is lost on the way.
   */
  async assess(
    ref: UnitRef,
    touches: readonly Touch[],
    { fresh, changed, noon }: AssessOptions,
  ): Promise<void> {
    const { store, log, meter } = this.#ports;
    const found = await store.unit(ref, { fresh: fresh || changed });
    if (found.stored?.outbox) await this.#finish(ref, found.stored.outbox, found.version);
    if (!found.record) {
      log.warn('facts of a unit that is not in the registry', { ...ref });
      return;
    }
    const company = await this.#cache.rules(ref.companyId, { changed });
    const basis = basisOf(found.record, company);
    const unit = toUnit(found.record);
    const past = this.#past(ref, unit, company);
    const { record } = found;
    const list = (head: Head, version: number) =>
      this.#list(ref, attentionOf(record, head, company.rules), version);
    const absorbed =
      found.stored && found.stored.basis !== basis
        ? await this.#refold(ref, found.stored.head, past, noon)
        : await this.#absorb(ref, found.stored?.head, touches, past, noon);
    meter.count('units_assessed', 1);
    if (!absorbed) {
      // Whoever was here before may have been cut off after the head and before its alerts.
      if (fresh && found.stored) {
        await this.#putAlerts(ref, alertsIn(unit, found.stored.head.open), found.version);
        await list(found.stored.head, found.version);
      }
      return;
    }
    await store.putCheckpoints(ref, absorbed.checkpoints);
    const { outbox, others } = followUp(unit, found.stored?.head, absorbed);
    await store.putHead(ref, found.version, { head: absorbed.head, basis, outbox });
    if (outbox) await this.#finish(ref, outbox, found.version + 1);
    await this.#putAlerts(ref, others, found.version + 1);
    // A message that comes back may have been cut off before this.
    const wasListed = (found.stored?.head.open.length ?? 0) > 0 || found.stored?.outbox;
    if (fresh || wasListed || absorbed.head.open.length > 0) await list(absorbed.head, found.version + 1);
    this.#ports.changes?.tell(ref);
  }

  async #absorb(
    ref: UnitRef,
    head: Head | undefined,
    touches: readonly Touch[],
    past: Past,
    noon: Instant | undefined,
  ): Promise<Absorbed | undefined> {
    const byId = new Map(touches.map((touch) => [touch.id, touch.key]));
    const wanted = [...byId].map(([id, including]) => ({ id, including }));
    const copies = await this.#ports.store.copies(ref, wanted);
    const touched = wanted.map(({ id }, index) => settled(id, receivedOf(copies[index] ?? [], past.unit)));
    await this.#quarantine(ref, touched);
    return absorb(head ?? newHead(past.unit, past.rules.fold), touched, past, noon);
  }

  /** The registry record or the rules have changed: everything is followed anew. */
  async #refold(ref: UnitRef, head: Head, past: Past, noon: Instant | undefined): Promise<Absorbed> {
    const received: Received[] = [];
    for await (const facts of factPages(this.#ports.store, ref)) {
      received.push(...receivedOf(facts, past.unit));
    }
    const all = [...groupBy(received, ({ fact }) => fact.id)].map(([id, copies]) => settled(id, copies));
    const [listed, months] = await Promise.all([
      this.#ports.store.alertsOf(ref),
      this.#ports.store.months(ref, { fresh: true }),
    ]);
    return refold(head, { alerts: listed.map(({ alertId }) => alertId), months }, all, past, noon);
  }

  #past(ref: UnitRef, unit: Unit, { rules }: CompanyRules): Past {
    const { store } = this.#ports;
    return {
      unit,
      rules,
      keyOf: (head) => createHash('sha256').update(JSON.stringify(head)).digest('base64url').slice(0, 16),
      copies: async (ids) => {
        const wanted = ids.map((id) => ({ id }));
        return (await store.copies(ref, wanted)).map((copies) => receivedOf(copies, unit));
      },
      checkpoint: async (key) => {
        const head = await store.checkpoint(ref, key);
        if (!head) throw new Error(`the checkpoint ${key} of ${ref.companyId}/${ref.unitId} is missing`);
        return head;
      },
    };
  }

  /** Copies that say something else under an id. */
  async #quarantine({ companyId, unitId }: UnitRef, touched: readonly Settled[]): Promise<void> {
    const conflicts = touched.flatMap((each) => each.conflicts);
    if (conflicts.length === 0) return;
    await this.#ports.store.putQuarantined(
      conflicts.map(({ fact, raw }) => ({
        companyId,
        sender: unitId,
        receivedAt: fact.known,
        reason: 'conflicting-duplicate' as const,
        detail: `another event of the id ${fact.id} stands`,
        raw,
      })),
    );
    this.#ports.meter.count('events_quarantined', conflicts.length, { reason: 'conflicting-duplicate' });
  }

  async #putAlerts(ref: UnitRef, alerts: Outbox['alerts'], version: number): Promise<void> {
    const { store } = this.#ports;
    await atOnce(READS_AT_ONCE, alerts, ({ alertId, alert }) => store.putAlert(ref, version, alertId, alert));
  }

  /** Keeps the unit's row among those that need attention, or takes it off. What people did about alerts is written by now. */
  async #list(ref: UnitRef, row: Omit<Attention, 'handling'> | null, version: number): Promise<void> {
    const { store } = this.#ports;
    if (!row) return store.dropAttention(ref, version);
    const alert = await store.alert(ref, row.alertId);
    const handling = { acknowledged: alert?.acknowledged ?? null, shelved: alert?.shelved ?? null };
    await store.putAttention(ref, version, { ...row, handling });
  }

  /** Adds what people did to what is kept of their alerts; one of an alert that never was is left. */
  async #putActs(ref: UnitRef, handled: Outbox['handled'], version: number): Promise<void> {
    const { store } = this.#ports;
    await atOnce(READS_AT_ONCE, handled, async ({ alertId, ...acts }) => {
      const stored = await store.alert(ref, alertId);
      if (stored) await store.putActs(ref, version, alertId, withActs(stored.acts, acts));
    });
  }

  /** Writes what follows from a head, all of which can be written again without harm, and takes its outbox off. */
  async #finish(ref: UnitRef, outbox: Outbox, version: number): Promise<void> {
    const { store, queues, meter } = this.#ports;
    await Promise.all([
      this.#putAlerts(ref, outbox.alerts, version),
      atOnce(READS_AT_ONCE, outbox.withdrawn, (alertId) => store.dropAlert(ref, version, alertId)),
      atOnce(READS_AT_ONCE, outbox.months, (account) => store.putMonth(ref, version, account)),
      atOnce(READS_AT_ONCE, outbox.lostMonths, (from) => store.dropMonth(ref, version, from)),
    ]);
    // Whoever sends the notices asks whether an alert is shelved.
    await this.#putActs(ref, outbox.handled, version);
    if (outbox.transitions.length > 0) {
      await queues.notify.send(notices(ref, version, outbox.transitions));
    }
    await store.clearOutbox(ref, version);
    for (const { change, alert } of outbox.transitions) {
      meter.count('alert_transitions', 1, { change, kind: alert.kind });
    }
  }
}

function receivedOf(copies: readonly StoredFact[], unit: Unit): Received[] {
  return copies.map(({ line }, index) => ({ line: index + 1, raw: line, fact: readmit(line, unit) }));
}

/**
 * What is to be written beside a head: its outbox, null if it needs none; and alerts of which nothing but the numbers
 * has changed. Those need no outbox, for a message that comes back has them written again.
 */
function followUp(
  unit: Unit,
  before: Head | undefined,
  absorbed: Absorbed,
): { outbox: Outbox | null; others: Outbox['alerts'] } {
  const { head, ended, withdrawn, handled, transitions, lostMonths } = absorbed;
  const listed = [...(before?.recent ?? []), ...(before?.open ?? [])];
  const known = new Map(listed.map((episode) => [alertIdOf(episode), JSON.stringify(episode)]));
  const changed = [...ended, ...head.open].filter(
    (episode) => known.get(alertIdOf(episode)) !== JSON.stringify(episode),
  );
  const told = new Set(transitions.map(({ alertId }) => alertId));
  const open = new Set(head.open.map(alertIdOf));
  const isRefreshed = (alertId: string) => open.has(alertId) && known.has(alertId) && !told.has(alertId);
  const alerts = alertsIn(unit, changed);
  const outbox: Outbox = {
    alerts: alerts.filter(({ alertId }) => !isRefreshed(alertId)),
    withdrawn,
    handled,
    months: closedMonths(absorbed),
    lostMonths,
    transitions,
  };
  return {
    outbox: Object.values(outbox).every(({ length }) => length === 0) ? null : outbox,
    others: alerts.filter(({ alertId }) => isRefreshed(alertId)),
  };
}

function alertsIn(unit: Unit, episodes: readonly Episode[]): Outbox['alerts'] {
  return episodes.map((episode) => ({
    alertId: alertIdOf(episode),
    alert: toAlert(unit.unitId, episode),
  }));
}
