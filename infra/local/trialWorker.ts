import { workerData } from 'node:worker_threads';
import { Logger } from '@aws-lambda-powertools/logger';
import { trialRun } from '../../functions/trial/run.ts';
import { readFacts } from '../../lib/archive/readFacts.ts';
import type { TrialItem } from '../../lib/trial/plan.ts';
import { archiveFolder } from './archiveFolder.ts';

/** What the worker is given once. */
export interface TrialWorkerSetup {
  /** The folder of the archive. */
  readonly folder: string;
  readonly quiet: boolean;
}

const { folder, quiet }: TrialWorkerSetup = workerData;
const log = new Logger({ serviceName: 'brinebell', ...(quiet && { logLevel: 'SILENT' }) });
const run = trialRun(archiveFolder(folder), readFacts, { log });

/** Does the function `trialRun` in a thread of its own: a range takes a core for a while. */
export default function work(item: TrialItem): Promise<void> {
  return run(item);
}
