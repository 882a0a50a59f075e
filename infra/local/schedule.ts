import type { Ports } from '../../functions/ports.ts';
import { within } from './within.ts';

/** Something that is done every so often. */
export interface Scheduled {
  readonly name: string;
  readonly source: { readonly everyMinutes: number };
  readonly timeoutSeconds: number;
  run(): Promise<unknown>;
}

/** However fast the clock runs, nothing is done more often than this, milliseconds. */
const SHORTEST_MS = 10_000;

/**
 * Does each at once, since it may have been missed, and then every so often; none again before it has ended. One that
 * fails is told of and done again the next time. `speed` is that of the clock. Returns a function that ends it, once those
 * under way have ended.
 */
export function startSchedule(
  all: readonly Scheduled[],
  { log, speed }: { log: Ports['log']; speed: number },
): () => Promise<void> {
  const underway = new Set<Promise<void>>();
  const start = ({ name, source, timeoutSeconds, run }: Scheduled) => {
    let current: Promise<void> | undefined;
    const go = () => {
      if (current) return;
      current = within(timeoutSeconds * 1000, run)
        .then(() => log.info(`${name} is done`))
        .catch((error: unknown) => log.error(`${name} fails`, error instanceof Error ? error : String(error)))
        .finally(() => {
          if (current) underway.delete(current);
          current = undefined;
        });
      underway.add(current);
    };
    go();
    return setInterval(go, Math.max(SHORTEST_MS, (source.everyMinutes * 60_000) / speed)).unref();
  };
  const timers = all.map(start);
  return async () => {
    for (const timer of timers) clearInterval(timer);
    await Promise.all(underway);
  };
}
