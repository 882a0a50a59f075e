import * as z from 'zod';
import type { ArchiveFiles } from '../../lib/archive/files.ts';
import { TrialError, wordsOf } from '../../lib/trial/errors.ts';
import { pageOf } from '../../lib/trial/page/page.ts';
import { partPaths, trialFolder, trialPaths } from '../../lib/trial/paths.ts';
import { type TrialItem, trialItemSchema, trialOrderSchema, trialPlanSchema } from '../../lib/trial/plan.ts';
import { type NotTried, trialSummaryOf } from '../../lib/trial/summary.ts';
import { addTally, emptyTally, tallySchema } from '../../lib/trial/tally.ts';
import { rulesSchema } from '../../lib/watch/rules.ts';
import type { Ports } from '../ports.ts';
import { fitting, isThere, jsonAt } from './files.ts';

/** More rows than this are left in the files of their parts, which one after another are the same: memory has an end. */
const MOST_MERGED_BYTES = 256 << 20;

const failureSchema = z.object({ code: z.string(), detail: z.string() });

/**
 * The function `trialSum`: puts what became of all ranges together, and names those of which nothing is known. The
 * summary is written last; a trial that has one is done, and is left as it is.
 *
 * @throws TrialError `order-invalid`, `plan-missing`
 */
export function trialSum(
  files: ArchiveFiles,
  { log }: Pick<Ports, 'log'>,
): (trial: unknown) => Promise<{ readonly summary: string }> {
  return async (given) => {
    const trial = fitting(given, trialOrderSchema.pick({ companyId: true, trialId: true }), 'order-invalid');
    const summaryPath = trialPaths.summary(trial);
    const there = new Set(await files.list(trialFolder(trial)));
    if (there.has(summaryPath)) return { summary: summaryPath };
    if (!there.has(trialPaths.plan(trial))) throw new TrialError('plan-missing');
    const plan = await jsonAt(files, trialPaths.plan(trial), trialPlanSchema);
    const items = await jsonAt(files, trialPaths.items(trial), z.array(trialItemSchema));

    const tally = emptyTally();
    const done: TrialItem[] = [];
    const notTried: NotTried[] = [];
    for (const item of items) {
      if (there.has(partPaths.tally(item))) {
        addTally(tally, await jsonAt(files, partPaths.tally(item), tallySchema));
        done.push(item);
      } else notTried.push(await notTriedOf(files, item));
    }
    const merged = await mergeRows(files, done, trialPaths.rows(trial));
    if (!merged) log.warn('the rows of a trial are too many for one file', { ...trial, parts: done.length });
    const summary = trialSummaryOf(tally, {
      present: rulesSchema.parse(plan.present),
      proposed: rulesSchema.parse(plan.proposed),
      until: plan.until,
      notTried,
      readWhole: true,
    });
    await files.put(trialPaths.page(trial), pageOf(summary, tally.mostChanged));
    await files.put(summaryPath, `${JSON.stringify(summary, null, 2)}\n`);
    await files.drop([
      trialPaths.items(trial),
      ...items.flatMap((item) => [partPaths.units(item), partPaths.tally(item), partPaths.failure(item)]),
      ...(merged ? done.map(partPaths.rows) : []),
    ]);
    return { summary: summaryPath };
  };
}

async function notTriedOf(files: ArchiveFiles, item: TrialItem): Promise<NotTried> {
  const { from: first, to: last, units } = item;
  const path = partPaths.failure(item);
  if (!(await isThere(files, path))) {
    return { first, last, units, reason: 'no-result', detail: wordsOf('no-result') };
  }
  const { code, detail } = await jsonAt(files, path, failureSchema);
  return { first, last, units, reason: code, detail };
}

/** Puts the rows of parts into one file, unless they are too many; returns whether it did. */
async function mergeRows(files: ArchiveFiles, done: readonly TrialItem[], path: string): Promise<boolean> {
  const parts: Uint8Array[] = [];
  let bytes = 0;
  for (const item of done) {
    const file = await files.open(partPaths.rows(item));
    bytes += file.byteLength;
    if (bytes > MOST_MERGED_BYTES) return false;
    parts.push(new Uint8Array(await file.slice(0)));
  }
  await files.put(path, Buffer.concat(parts));
  return true;
}
