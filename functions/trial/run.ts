import * as z from 'zod';
import type { ArchiveFiles } from '../../lib/archive/files.ts';
import { TrialError } from '../../lib/trial/errors.ts';
import { partPaths, trialPaths } from '../../lib/trial/paths.ts';
import { type TrialItem, trialItemSchema, trialPlanSchema } from '../../lib/trial/plan.ts';
import type { TrialRow } from '../../lib/trial/row.ts';
import { addUnit, emptyTally } from '../../lib/trial/tally.ts';
import { type TrialOptions, tryRules, type UnitTrial } from '../../lib/trial/tryRules.ts';
import { rulesSchema } from '../../lib/watch/rules.ts';
import { compareText } from '../../shared/compareText.ts';
import { readmit } from '../../shared/readmit.ts';
import { readRegistry, type Unit } from '../../shared/registry.ts';
import type { Ports } from '../ports.ts';
import { fitting, isThere, jsonAt, textAt } from './files.ts';

/** Reads the archived events of a company's units, unit after unit; units without any are left out. */
export type ReadFacts = (
  files: ArchiveFiles,
  companyId: string,
  range: { readonly from: string; readonly to: string },
) => AsyncIterable<{ readonly unitId: string; readonly lines: readonly string[] }>;

/** A distributed map hands on items one by one, or several as `Items` ("ItemBatcher (Map)", AWS Step Functions guide). */
const eventSchema = z.union([
  z.object({ Items: z.array(trialItemSchema).min(1) }),
  trialItemSchema.transform((item) => ({ Items: [item] })),
]);

/**
 * The function `trialRun`: replays the units of a range from the archive by the rules as they are and by those proposed,
 * and writes what differs. A range that is done is not done again. One that fails leaves a note of why, and throws, so
 * that it is tried again; the note goes when it succeeds.
 *
 * @throws TrialError
 */
export function trialRun(
  files: ArchiveFiles,
  readFacts: ReadFacts,
  { log }: Pick<Ports, 'log'>,
): (event: unknown) => Promise<void> {
  return async (event) => {
    const { Items } = fitting(event, eventSchema, 'order-invalid');
    const failures: TrialError[] = [];
    for (const item of Items) {
      try {
        if (!(await isThere(files, partPaths.tally(item)))) await runPart(files, readFacts, item);
      } catch (error) {
        const failure = asTrialError(error, 'fault');
        const { code, message } = failure;
        log.error('a range of a trial fails', { ...item, code, error: message });
        failures.push(failure);
        await files.put(partPaths.failure(item), JSON.stringify({ code, detail: message }));
      }
    }
    const [first] = failures;
    if (first) throw first;
  };
}

async function runPart(files: ArchiveFiles, readFacts: ReadFacts, item: TrialItem): Promise<void> {
  const plan = await readFile('plan-missing', () => jsonAt(files, trialPaths.plan(item), trialPlanSchema));
  const options: TrialOptions = {
    present: rulesSchema.parse(plan.present),
    proposed: rulesSchema.parse(plan.proposed),
    until: plan.until,
  };
  const units = await unitsOf(files, item);
  const trials = new Map<string, UnitTrial>();
  await readFile('archive-unreadable', async () => {
    for await (const { unitId, lines } of readFacts(files, item.companyId, item)) {
      const unit = units.get(unitId);
      if (unit) trials.set(unitId, tryLines(unit, lines, options));
      // Where this shares a process with others, they have their turn.
      await new Promise(setImmediate);
    }
  });
  const tally = emptyTally();
  const rows: TrialRow[] = [];
  for (const [unitId, unit] of units) {
    const trial = trials.get(unitId) ?? tryRules(unit, [], options);
    addUnit(tally, trial);
    for (const row of trial.rows) rows.push(row);
  }
  await files.put(partPaths.rows(item), rows.map((row) => `${JSON.stringify(row)}\n`).join(''));
  await files.put(partPaths.tally(item), JSON.stringify(tally));
  await files.drop([partPaths.failure(item)]);
}

/** The units of a range by id, in that order. */
async function unitsOf(files: ArchiveFiles, item: TrialItem): Promise<ReadonlyMap<string, Unit>> {
  return readFile('registry-unreadable', async () => {
    const { units, problems } = readRegistry(await textAt(files, partPaths.units(item)));
    const [first] = problems;
    if (first) throw new Error(`${first.unitId ?? `record ${first.record}`}: ${first.message}`);
    return new Map([...units].sort(([a], [b]) => compareText(a, b)));
  });
}

/** What is archived has been accepted before, and is not judged again. */
function tryLines(unit: Unit, lines: readonly string[], options: TrialOptions): UnitTrial {
  const received = lines.map((raw, index) => ({ line: index + 1, raw, fact: readmit(raw, unit) }));
  try {
    return tryRules(unit, received, options);
  } catch (error) {
    throw new TrialError('fault', `${unit.unitId}: ${String(error)}`, { cause: error });
  }
}

async function readFile<Result>(
  code: 'plan-missing' | 'registry-unreadable' | 'archive-unreadable',
  read: () => Promise<Result>,
): Promise<Result> {
  try {
    return await read();
  } catch (error) {
    throw asTrialError(error, code);
  }
}

function asTrialError(error: unknown, code: TrialError['code']): TrialError {
  if (error instanceof TrialError) return error;
  return new TrialError(code, error instanceof Error ? error.message : String(error), { cause: error });
}
