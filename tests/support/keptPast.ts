import { createHash } from 'node:crypto';
import type { Past } from '../../lib/live/absorb.ts';
import { type Absorbed, absorb, settled } from '../../lib/live/absorb.ts';
import { type DoneAct, withActs } from '../../lib/live/alertActs.ts';
import { type Head, newHead } from '../../lib/live/head.ts';
import type { Transition } from '../../lib/live/transitions.ts';
import type { Received } from '../../lib/replay/received.ts';
import { rulesSchema } from '../../lib/watch/rules.ts';
import type { Unit } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';

/** A unit that is followed live, its past kept in memory. */
export class FollowedUnit {
  head: Head;
  /** What people were told, in that order. */
  readonly told: Transition[] = [];
  readonly alerts = new Map<string, string>();
  /** What people did about each of them. */
  readonly acts = new Map<string, DoneAct[]>();
  readonly months = new Map<string, unknown>();
  /** How many heads were read back. */
  checkpointsRead = 0;
  copiesRead = 0;
  readonly #copies = new Map<string, Received[]>();
  readonly #checkpoints = new Map<string, Head>();
  readonly #past: Past;

  constructor(unit: Unit) {
    const rules = rulesSchema.parse({});
    this.head = newHead(unit, rules.fold);
    this.#past = {
      unit,
      rules,
      keyOf: (head) => createHash('sha256').update(JSON.stringify(head)).digest('hex'),
      copies: async (ids) => {
        this.copiesRead += ids.length;
        return ids.map((id) => this.#copies.get(id) ?? []);
      },
      checkpoint: async (key) => {
        this.checkpointsRead += 1;
        const head = this.#checkpoints.get(key);
        if (!head) throw new Error(`no checkpoint ${key}`);
        return head;
      },
    };
  }

  /** Stores copies of events, then takes in what they touch, and a noon that has come meanwhile. */
  async receive(batch: readonly Received[], noon?: Instant): Promise<Absorbed | undefined> {
    for (const received of batch) this.store(received);
    return this.touch(
      batch.map(({ fact }) => fact.id),
      noon,
    );
  }

  store(received: Received): void {
    this.#copies.set(received.fact.id, [...(this.#copies.get(received.fact.id) ?? []), received]);
  }

  /** Takes in what is stored under some ids. */
  async touch(ids: readonly string[], noon?: Instant): Promise<Absorbed | undefined> {
    const touched = [...new Set(ids)].map((id) => settled(id, this.#copies.get(id) ?? []));
    const absorbed = await absorb(this.head, touched, this.#past, noon);
    if (!absorbed) return undefined;
    for (const { key, head } of absorbed.checkpoints) this.#checkpoints.set(key, structuredClone(head));
    // What is kept has been through JSON.
    this.head = JSON.parse(JSON.stringify(absorbed.head));
    this.told.push(...absorbed.transitions);
    for (const alertId of absorbed.withdrawn) {
      this.alerts.delete(alertId);
      this.acts.delete(alertId);
    }
    for (const episode of [...absorbed.ended, ...absorbed.head.open]) {
      this.alerts.set(`${episode.kind}-${episode.raisedAt}`, JSON.stringify(episode));
    }
    for (const { alertId, ...acts } of absorbed.handled) {
      if (this.alerts.has(alertId)) this.acts.set(alertId, withActs(this.acts.get(alertId) ?? [], acts));
    }
    for (const month of absorbed.months) this.months.set(month.month, { ...month });
    return absorbed;
  }
}
