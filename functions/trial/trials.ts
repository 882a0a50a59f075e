import * as z from 'zod';
import type { ArchiveFiles } from '../../lib/archive/files.ts';
import { TrialError, wordsOf } from '../../lib/trial/errors.ts';
import { partPaths, trialFolder, trialPaths, trialsFolder } from '../../lib/trial/paths.ts';
import { type TrialOrder, type TrialPlan, trialPlanSchema } from '../../lib/trial/plan.ts';
import { type TrialSummary, trialSummarySchema } from '../../lib/trial/summary.ts';
import { isTrialId } from '../../lib/trial/trialId.ts';
import { jsonAt, textAt } from './files.ts';

/** How far a trial is. */
export interface TrialLook {
  readonly trialId: string;
  readonly state: 'running' | 'done' | 'failed';
  /** Null until it is planned. */
  readonly plan: TrialPlan | null;
  /** Ranges of units, of the plan's, that are done, and those that failed at least once and are not done. */
  readonly partsDone: number;
  readonly partsFailed: number;
  readonly summary: TrialSummary | null;
  /** Why it came to nothing; null if it did not. */
  readonly failure: string | null;
}

/** Trials of rules over a company's whole past. Nothing of one company is to be had for another. */
export interface Trials {
  /** Returns the trial's id; undefined if one of the company's is under way. */
  start(companyId: string, rules: Record<string, unknown>): Promise<string | undefined>;
  look(companyId: string, trialId: string): Promise<TrialLook | undefined>;
  /** The page of a trial that is done. */
  page(companyId: string, trialId: string): Promise<string | undefined>;
}

/** What has the steps of a trial done: the workflow of the topology. */
export interface TrialRunner {
  /** Begins a trial and does not wait for it; false if one of that number has been begun before. */
  begin(order: TrialOrder): Promise<boolean>;
  /** `unknown` where it has begun none of that number, or has forgotten it. */
  stateOf(trial: Pick<TrialOrder, 'companyId' | 'trialId'>): Promise<'running' | 'ended' | 'unknown'>;
}

/** Numbers that are tried for a new trial, where files of old ones have been taken away and their numbers are used up. */
const MOST_NUMBERS = 20;

const failureSchema = z.object({ detail: z.string() });

/**
 * Trials that are done by a runner and leave files. Numbers settle who comes first: whoever begins one that is begun
 * already has lost to another who started at the same moment.
 */
export function trialsOf(files: ArchiveFiles, runner: TrialRunner): Trials {
  const isRunning = async (trial: Pick<TrialOrder, 'companyId' | 'trialId'>) =>
    (await runner.stateOf(trial)) === 'running';
  const isOver = (trial: Pick<TrialOrder, 'companyId' | 'trialId'>, paths: readonly string[]) =>
    paths.includes(trialPaths.summary(trial)) || paths.includes(trialPaths.failure(trial));

  return {
    async start(companyId, rules) {
      const paths = await files.list(trialsFolder(companyId));
      const newest = Math.max(0, ...paths.map((path) => numberOf(companyId, path)));
      const last = { companyId, trialId: String(newest) };
      if (newest > 0 && !isOver(last, paths) && (await isRunning(last))) return undefined;
      for (let number = newest + 1; number <= newest + MOST_NUMBERS; number += 1) {
        const trial = { companyId, trialId: String(number) };
        if (await runner.begin({ ...trial, rules })) return trial.trialId;
        if (await isRunning(trial)) return undefined;
      }
      throw new TrialError('fault', `no number after ${newest} is free`);
    },

    async look(companyId, trialId) {
      if (!isTrialId(trialId)) return undefined;
      const trial = { companyId, trialId };
      // Before the files are looked at: what ends in between has left its summary then.
      const state = await runner.stateOf(trial);
      const paths = new Set(await files.list(trialFolder(trial)));
      const read = async <Schema extends z.ZodType>(path: string, schema: Schema) =>
        paths.has(path) ? jsonAt(files, path, schema) : null;
      const plan = await read(trialPaths.plan(trial), trialPlanSchema);
      const summary = await read(trialPaths.summary(trial), trialSummarySchema);
      const failed = summary ? null : await read(trialPaths.failure(trial), failureSchema);
      if (!plan && !failed && state === 'unknown') return undefined;
      const isOpen = !summary && !failed;
      const unsaid =
        isOpen && state !== 'running' ? wordsOf(state === 'ended' ? 'no-result' : 'stopped') : null;
      const parts = Array.from({ length: plan?.parts ?? 0 }, (_, part) => ({ ...trial, part }));
      const partsDone = parts.filter((part) => paths.has(partPaths.tally(part))).length;
      return {
        ...{ trialId, plan, summary },
        state: summary ? 'done' : isOpen && unsaid === null ? 'running' : 'failed',
        // When it is done their files are gone.
        partsDone: summary ? parts.length - summary.notTried.length : partsDone,
        partsFailed:
          summary?.notTried.length ?? parts.filter((part) => paths.has(partPaths.failure(part))).length,
        failure: failed?.detail ?? unsaid,
      };
    },

    async page(companyId, trialId) {
      if (!isTrialId(trialId)) return undefined;
      const trial = { companyId, trialId };
      const paths = await files.list(trialFolder(trial));
      return paths.includes(trialPaths.summary(trial)) ? textAt(files, trialPaths.page(trial)) : undefined;
    },
  };
}

/** The number of the trial that a file is of; 0 if it is of none. */
function numberOf(companyId: string, path: string): number {
  const [trialId = ''] = path.slice(trialsFolder(companyId).length).split('/');
  return isTrialId(trialId) ? Number(trialId) : 0;
}
