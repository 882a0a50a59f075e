import { setTimeout as pause } from 'node:timers/promises';
import type { WireEvent } from '../../../shared/events.ts';
import type { Alerting } from './alerting.ts';
import type { LiveService } from './liveService.ts';

/** An alert that nobody was told of by then is taken for one that took so long. */
const LONGEST_SECONDS = 60;
const TICK_MS = 50;

/** Seconds from the publish of an event to the webhook that tells of the alert that it raised, one for each alert. */
export interface Latencies {
  readonly steady: readonly number[];
  readonly burst: readonly number[];
}

/** Meters that report without anything wrong, each with the events that it has left. */
export interface Quiet {
  readonly unitId: string;
  readonly left: readonly WireEvent[];
}

export interface LatenciesOptions {
  readonly quiet: readonly Quiet[];
  /** Those whose last event raises an alert, over the time of the load; what they reported before is there already. */
  readonly spread: readonly Alerting[];
  /** More of them, whose alerts are raised all at once. */
  readonly together: readonly Alerting[];
  /** Events that quiet meters publish a second. */
  readonly perSecond: number;
  readonly seconds: number;
}

/**
 * Takes times to alert under a steady load, with alerts spread over it; and where every meter publishes at once, as at midnight.
 */
export async function latenciesOf(
  service: LiveService,
  { quiet, spread, together, perSecond, seconds }: LatenciesOptions,
): Promise<Latencies> {
  const load = quiet.flatMap(({ unitId, left }) => left.map((event, turn) => ({ unitId, event, turn })));
  load.sort((a, b) => a.turn - b.turn);
  const publishing: Promise<void>[] = [];
  const steady: Promise<number>[] = [];
  const began = performance.now();
  for (let elapsed = 0; elapsed < seconds; elapsed = (performance.now() - began) / 1000) {
    for (const { unitId, event } of load.splice(0, Math.floor(elapsed * perSecond) - publishing.length)) {
      publishing.push(service.publish(unitId, [event]));
    }
    while (steady.length < (spread.length * elapsed) / seconds) {
      const next = spread[steady.length];
      if (next) steady.push(secondsToAlert(service, next));
      else break;
    }
    await pause(TICK_MS);
  }
  await Promise.all(publishing);
  const steadySeconds = await Promise.all(steady);
  await service.settled();
  const burst = together.map((each) => secondsToAlert(service, each));
  // The next of each: one of long ago would have its unit followed anew since then.
  const next = new Map(load.toReversed().map(({ unitId, event }) => [unitId, event]));
  await Promise.all([...next].map(([unitId, event]) => service.publish(unitId, [event])));
  return { steady: steadySeconds, burst: await Promise.all(burst) };
}

async function secondsToAlert(service: LiveService, { record, event, kind }: Alerting): Promise<number> {
  const began = performance.now();
  await service.publish(record.unitId, [event]);
  for (;;) {
    const heardAt = service.heardAt(record.unitId, kind);
    const seconds = ((heardAt ?? performance.now()) - began) / 1000;
    if (heardAt !== undefined || seconds > LONGEST_SECONDS) return seconds;
    await pause(TICK_MS);
  }
}
