import * as z from 'zod';
import type { Ports } from '../../functions/ports.ts';
import { textAt } from '../../functions/trial/files.ts';
import { trialPlan } from '../../functions/trial/plan.ts';
import { trialSum } from '../../functions/trial/sum.ts';
import type { TrialRunner } from '../../functions/trial/trials.ts';
import type { ArchiveFiles } from '../../lib/archive/files.ts';
import { TrialError } from '../../lib/trial/errors.ts';
import { trialPaths } from '../../lib/trial/paths.ts';
import { type TrialItem, type TrialOrder, trialItemSchema } from '../../lib/trial/plan.ts';
import { TRIAL_WORKFLOW } from '../topology.ts';

export interface LocalTrialsPorts extends Pick<Ports, 'store' | 'now' | 'log'> {
  readonly files: ArchiveFiles;
  /** The function `trialRun`, here or in a thread of its own. */
  run(item: TrialItem): Promise<void>;
  /** Units of a range; fewer for tests. */
  readonly unitsAPart?: number;
}

export interface LocalTrials extends TrialRunner {
  /** Begins no other range, and ends when what is under way has, or is made to. */
  stop(): Promise<void>;
}

/** The workflow of trials in one process: a range of units at a time, so that the service's own work goes on. */
export function localTrials(ports: LocalTrialsPorts): LocalTrials {
  const { files, log } = ports;
  const begun = new Set<string>();
  const running = new Map<string, Promise<void>>();
  let isStopping = false;

  /** Tries as often as the workflow does. What fails then has left its note, and holds up nothing. */
  const attempt = async (item: TrialItem) => {
    for (let attempts = 0; attempts < TRIAL_WORKFLOW.attempts; attempts += 1) {
      if (isStopping) throw new TrialError('stopped');
      try {
        await ports.run(item);
        return;
      } catch {
        // It has been logged where it arose.
      }
    }
  };

  const work = async (order: TrialOrder) => {
    const planned = await trialPlan(ports, files, ports)(order);
    const items = z.array(trialItemSchema).parse(JSON.parse(await textAt(files, planned.items)));
    for (const item of items) {
      await attempt(item);
    }
    await trialSum(files, ports)(planned);
  };

  return {
    async begin(order) {
      const name = nameOf(order);
      if (begun.has(name)) return false;
      begun.add(name);
      const done = work(order)
        .catch(async (error) => {
          const detail = error instanceof Error ? error.message : String(error);
          log.error('a trial fails', { companyId: order.companyId, trialId: order.trialId, error: detail });
          await files.put(trialPaths.failure(order), JSON.stringify({ detail }));
        })
        .catch((error) => log.error('a failure of a trial could not be noted', { error: String(error) }))
        .finally(() => running.delete(name));
      running.set(name, done);
      return true;
    },
    async stateOf(trial) {
      const name = nameOf(trial);
      return running.has(name) ? 'running' : begun.has(name) ? 'ended' : 'unknown';
    },
    async stop() {
      isStopping = true;
      await Promise.all(running.values());
    },
  };
}

function nameOf({ companyId, trialId }: Pick<TrialOrder, 'companyId' | 'trialId'>): string {
  return `${companyId}/${trialId}`;
}
