import { fileURLToPath } from 'node:url';
import type { Piscina } from 'piscina';
import type { TrialItem } from '../../lib/trial/plan.ts';
import type { TrialWorkerSetup } from './trialWorker.ts';

/** How long an idle thread is kept, milliseconds. */
const IDLE_MS = 10_000;

/** A thread in which ranges of trials are done, one after another; it is there only while there is something to do. */
export function trialThread(setup: TrialWorkerSetup): {
  run(item: TrialItem): Promise<void>;
  close(): Promise<void>;
} {
  let pool: Promise<Piscina> | undefined;
  const opened = async () => {
    // Loaded only where it is used: most services never try a rule.
    const { Piscina } = await import('piscina');
    return new Piscina({
      filename: workerPath(),
      minThreads: 0,
      maxThreads: 1,
      idleTimeout: IDLE_MS,
      workerData: setup,
    });
  };
  return {
    async run(item) {
      pool ??= opened();
      await (await pool).run(item);
    },
    /** Ends what is under way too. */
    async close() {
      await (await pool)?.destroy();
    },
  };
}

/** Beside the built service; a service that is run from its sources has the built one too. */
function workerPath(): string {
  const isBuilt = import.meta.url.endsWith('.js');
  return fileURLToPath(new URL(isBuilt ? './trialWorker.js' : '../../dist/trialWorker.js', import.meta.url));
}
