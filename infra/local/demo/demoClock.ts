import type { Instant } from '../../../shared/time/instant.ts';
import type { ServiceClock } from '../service.ts';

const MINUTE_MS = 60_000;
const DAY_MS = 86_400_000;

/** A clock that stands still until it is started, and then runs as fast as is asked. */
export class DemoClock implements ServiceClock {
  readonly #from: Instant;
  readonly speed: number;
  #startedAt: number | undefined;

  /** @param daysAMinute days that pass in a minute; undefined for real time */
  constructor(from: Instant, daysAMinute: number | undefined) {
    this.#from = from;
    this.speed = daysAMinute === undefined ? 1 : (daysAMinute * DAY_MS) / MINUTE_MS;
  }

  start(): void {
    this.#startedAt ??= performance.now();
  }

  now(): Instant {
    if (this.#startedAt === undefined) return this.#from;
    return this.#from + Math.floor((performance.now() - this.#startedAt) * this.speed);
  }
}
