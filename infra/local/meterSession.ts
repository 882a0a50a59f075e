import type { PublishPacket } from 'aedes';
import { lineOf } from '../../functions/lineOf.ts';
import type { Outlet } from '../../functions/ports.ts';
import { fits } from '../../functions/secrets.ts';
import { received } from '../../functions/send.ts';
import type { Principal } from '../../lib/store/principal.ts';
import type { Store } from '../../lib/store/store.ts';
import type { Instant } from '../../shared/time/instant.ts';

/** Why a meter is refused. */
export class RefusedError extends Error {
  readonly code: 'bad-credential' | 'not-allowed';

  constructor(code: 'bad-credential' | 'not-allowed', message: string) {
    super(message);
    this.code = code;
  }
}

export interface MeterPorts {
  readonly store: Pick<Store, 'principal'>;
  readonly ingest: Outlet;
  readonly now: () => Instant;
}

/** A credential that was taken back counts for no longer than this. */
const RECHECKED_AFTER_MS = 60_000;

/** What one connected meter may do: tell events of its own unit. */
export class MeterSession {
  readonly name: string;
  readonly #secret: string;
  readonly #ports: MeterPorts;
  #checked: Promise<Principal & { unitId: string }>;
  #checkedAt: number;

  constructor(name: string, secret: string, ports: MeterPorts) {
    this.name = name;
    this.#secret = secret;
    this.#ports = ports;
    this.#checked = this.#check();
    this.#checkedAt = performance.now();
  }

  /** Whose session it is. Throws a RefusedError if the credential is not, or no longer, good. */
  principal(): Promise<Principal & { unitId: string }> {
    if (performance.now() > this.#checkedAt + RECHECKED_AFTER_MS) {
      this.#checked = this.#check();
      this.#checkedAt = performance.now();
    }
    return this.#checked;
  }

  /** Takes an event in; returns when it is durable. Messages of one session are taken in as they come. */
  async publish({ topic, payload, retain }: PublishPacket): Promise<void> {
    const { companyId, unitId } = await this.principal();
    if (topic !== `units/${unitId}/events`) {
      throw new RefusedError('not-allowed', `${this.name} may not publish on this topic`);
    }
    if (retain) throw new RefusedError('not-allowed', `${this.name} may not leave retained messages`);
    const receivedAt = this.#ports.now();
    await this.#ports.ingest.send([received({ companyId, unitId, receivedAt, line: lineOf(payload) })]);
  }

  async #check(): Promise<Principal & { unitId: string }> {
    const principal = await this.#ports.store.principal(this.name);
    const isRight = fits(this.#secret, principal?.secretHash);
    if (!isRight || !principal || principal.unitId === null) {
      throw new RefusedError('bad-credential', 'no meter has this user name and password');
    }
    return { ...principal, unitId: principal.unitId };
  }
}
