import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import * as z from 'zod';
import { trialPlan } from '../../functions/trial/plan.ts';
import { type ReadFacts, trialRun } from '../../functions/trial/run.ts';
import { trialSum } from '../../functions/trial/sum.ts';
import { type TrialLook, trialsOf } from '../../functions/trial/trials.ts';
import { localTrials } from '../../infra/local/trials.ts';
import type { ArchiveFiles } from '../../lib/archive/files.ts';
import { partPaths } from '../../lib/trial/paths.ts';
import { type TrialItem, trialItemSchema } from '../../lib/trial/plan.ts';
import { trialSummarySchema } from '../../lib/trial/summary.ts';
import { admit } from '../../shared/admission.ts';
import { readRecords, readRegistry } from '../../shared/registry.ts';
import { brinebell, linesOf, scratch } from '../support/command.ts';
import { memoryFiles } from '../support/memoryFiles.ts';
import { memoryStore } from '../support/memoryStore.ts';

const PRESENT = { 'no-flow': { routine: 0.2 } };
const PROPOSED = { 'no-flow': { routine: 0.5 }, overrun: { raise: 0.6 }, 'salt-low': { horizonDays: 60 } };
const UNTIL = '2025-05-05T12:00:00.000Z';
const RESULTS = ['trial.ndjson', 'summary.json', 'trial.html'];

const folder = scratch();
afterAll(folder.remove);
const silent = { debug: () => {}, info: () => {}, warn: () => {}, error: () => {} };

/** What the command writes of the fleet, and the fleet. */
let expected: Record<string, string>;
let companyId: string;
let registryText: string;
/** What was accepted of each unit. */
let archived: Map<string, string[]>;

beforeAll(() => {
  const fleet = folder.folder();
  const simulate = ['simulate', '--out', fleet, '--units', '17', '--days', '130', '--seed', '12'];
  expect(brinebell(simulate).status).toBe(0);
  const [events, units] = [join(fleet, 'events.ndjson'), join(fleet, 'units.json')];
  registryText = readFileSync(units, 'utf8');
  const registry = readRegistry(registryText);
  companyId = [...registry.units.values()][0]?.companyId ?? '';
  archived = new Map();
  for (const line of linesOf(readFileSync(events, 'utf8'))) {
    const admission = admit(line, registry.units);
    if (!admission.accepted) continue;
    const { unitId } = admission.unit;
    // In no order.
    archived.set(unitId, [line, ...(archived.get(unitId) ?? [])]);
  }
  const out = folder.folder();
  const rules = ['--rules', folder.file('r.json', JSON.stringify(PROPOSED))];
  const against = ['--against', folder.file('a.json', JSON.stringify(PRESENT))];
  const trial = ['trial', events, '--units', units, '--out', out, '--until', UNTIL, ...rules, ...against];
  expect(brinebell(trial)).toMatchObject({ status: 0, stderr: '' });
  expected = Object.fromEntries(RESULTS.map((name) => [name, readFileSync(join(out, name), 'utf8')]));
});

const readFacts: ReadFacts = async function* (_files, company, { from, to }) {
  if (company !== companyId) return;
  for (const [unitId, lines] of archived) if (unitId >= from && unitId <= to) yield { unitId, lines };
};

/** A company with the fleet, and the steps of a trial of its rules. */
async function companyAt(facts: ReadFacts = readFacts) {
  const store = memoryStore();
  await store.putCompany({ companyId, name: 'Acme Soft Water', channels: [], rules: PRESENT });
  const records = [...readRecords(registryText).records.values()];
  await store.putRecords(companyId, records);
  const { files: kept, text } = memoryFiles();
  const puts = new Map<string, number>();
  const files: ArchiveFiles = {
    ...kept,
    put(path, content) {
      puts.set(path, (puts.get(path) ?? 0) + 1);
      return kept.put(path, content);
    },
  };
  const ports = { store, now: () => Date.parse(UNTIL), log: silent, files };
  const plan = trialPlan(ports, files, { unitsAPart: 5 });
  const run = trialRun(files, facts, ports);
  const sum = trialSum(files, ports);
  const itemsAt = (path: string) => z.array(trialItemSchema).parse(JSON.parse(text(path)));
  const results = (trialId: string): Record<string, string> =>
    Object.fromEntries(RESULTS.map((name) => [name, text(`trials/${companyId}/${trialId}/${name}`)]));
  return { store, files, ports, plan, run, sum, itemsAt, results, puts };
}

const order = () => ({ companyId, trialId: '1', rules: PROPOSED });

describe('plan, run and sum', () => {
  it('find what the command finds, whatever the order, the batches and the repeats', async () => {
    const { files, plan, run, sum, itemsAt, results, puts } = await companyAt();
    const planned = await plan(order());
    const items = itemsAt(planned.items);
    expect(items.map(({ units }) => units)).toEqual([5, 5, 5, 2]);
    const [first, second, third, last] = items;
    await run(last);
    await run({ Items: [third, first] });
    // What is retried has one end, and does nothing twice.
    expect(await plan(order())).toEqual(planned);
    await run(first);
    await run(second);
    await sum(planned);
    expect(results('1')).toEqual(expected);
    for (const item of items) expect(puts.get(partPaths.tally(item))).toBe(1);
    expect(await sum({ companyId, trialId: '1' })).toEqual(await sum(planned));
    expect(puts.get(`trials/${companyId}/1/summary.json`)).toBe(1);
    // The rest was needed on the way only.
    expect(await files.list('trials/')).toEqual(
      [...RESULTS, 'plan.json'].map((name) => `trials/${companyId}/1/${name}`).sort(),
    );
  });

  it('lose a range that fails and no other, and say which and why', async () => {
    const { files, plan, run, sum, itemsAt, results } = await companyAt(async function* (...asked) {
      if (asked[2].from === failing) throw new Error('the file is none of ours');
      yield* readFacts(...asked);
    });
    const planned = await plan(order());
    const items = itemsAt(planned.items);
    const failing = items[1]?.from;
    for (const [index, item] of items.entries()) {
      if (index === 1) await expect(run(item)).rejects.toMatchObject({ code: 'archive-unreadable' });
      // The third ends without a word.
      else if (index !== 2) await run(item);
    }
    await sum(planned);
    const found = results('1');
    const summary = trialSummarySchema.parse(JSON.parse(found['summary.json'] ?? ''));
    expect(summary).toMatchObject({ units: 7, complete: false });
    expect(summary.notTried).toEqual([
      {
        ...{ first: items[1]?.from, last: items[1]?.to, units: 5, reason: 'archive-unreadable' },
        detail: expect.stringContaining('the file is none of ours'),
      },
      {
        first: items[2]?.from,
        last: items[2]?.to,
        units: 5,
        reason: 'no-result',
        detail: expect.any(String),
      },
    ]);
    const tried =
      ({ from, to }: TrialItem) =>
      (line: string) => {
        const { unitId } = JSON.parse(line);
        return unitId >= from && unitId <= to;
      };
    const [first, , , last] = items;
    if (!first || !last) throw new Error('four ranges were planned');
    const those = linesOf(expected['trial.ndjson'] ?? '');
    expect(linesOf(found['trial.ndjson'] ?? '')).toEqual([
      ...those.filter(tried(first)),
      ...those.filter(tried(last)),
    ]);
    expect(found['trial.html']).toMatch(/10 units were not tried.*the file is none of ours/s);
    expect(await files.list(`trials/${companyId}/1/failed`)).toEqual([]);
  });

  it('forget a failure that a later try mends', async () => {
    let isBroken = true;
    const { plan, run, sum, itemsAt, results } = await companyAt(async function* (...asked) {
      if (isBroken) throw new Error('merged meanwhile');
      yield* readFacts(...asked);
    });
    const planned = await plan(order());
    const items = itemsAt(planned.items);
    await expect(run({ Items: items })).rejects.toMatchObject({ code: 'archive-unreadable' });
    isBroken = false;
    await run({ Items: items });
    await sum(planned);
    expect(results('1')).toEqual(expected);
  });

  it('refuse what is none of theirs', async () => {
    const { plan, run, sum } = await companyAt();
    await expect(plan({ ...order(), trialId: '../1' })).rejects.toMatchObject({ code: 'order-invalid' });
    await expect(plan({ ...order(), rules: { overrun: { rise: 1 } } })).rejects.toMatchObject({
      code: 'order-invalid',
      message: expect.stringContaining('rise'),
    });
    await expect(plan({ ...order(), companyId: 'nobody' })).rejects.toMatchObject({
      code: 'company-unknown',
    });
    await expect(run({})).rejects.toMatchObject({ code: 'order-invalid' });
    await expect(sum(order())).rejects.toMatchObject({ code: 'plan-missing' });
    const item = { companyId, trialId: '1', part: 0, from: 'a', to: 'b', units: 1 };
    await expect(run(item)).rejects.toMatchObject({ code: 'plan-missing' });
  });
});

describe('the workflow in one process', () => {
  async function local(facts: ReadFacts = readFacts) {
    const company = await companyAt(facts);
    const runner = localTrials({ ...company.ports, run: company.run, unitsAPart: 5 });
    const trials = trialsOf(company.files, runner);
    const over = async (trialId: string): Promise<TrialLook> => {
      for (;;) {
        const look = await trials.look(companyId, trialId);
        if (look && look.state !== 'running') return look;
        await new Promise((resolve) => setTimeout(resolve, 5));
      }
    };
    return { ...company, runner, trials, over };
  }

  it('does one trial of a company at a time, tells how far it is, and finds what the command finds', async () => {
    const { trials, over, results } = await local();
    const started = await Promise.all([trials.start(companyId, PROPOSED), trials.start(companyId, PROPOSED)]);
    expect(started).toEqual(['1', undefined]);
    expect(await trials.look(companyId, '1')).toMatchObject({ state: 'running', summary: null });
    expect(await trials.page(companyId, '1')).toBeUndefined();
    expect(await trials.start(companyId, PROPOSED)).toBeUndefined();
    expect(await over('1')).toMatchObject({
      ...{ state: 'done', partsDone: 4, partsFailed: 0, failure: null },
      plan: { parts: 4, units: 17, proposed: PROPOSED, present: PRESENT },
      summary: { complete: true },
    });
    expect(results('1')).toEqual(expected);
    expect(await trials.page(companyId, '1')).toBe(expected['trial.html']);
    expect(await trials.start(companyId, {})).toBe('2');
    expect(await over('2')).toMatchObject({ state: 'done', plan: { proposed: {} } });
    for (const [company, trialId] of [
      ['another', '1'],
      [companyId, '3'],
      [companyId, '../x'],
      [companyId, ''],
    ] as const) {
      expect(await trials.look(company, trialId)).toBeUndefined();
      expect(await trials.page(company, trialId)).toBeUndefined();
    }
  });

  it('tries a range again, and goes on without it', async () => {
    const asked: string[] = [];
    const { trials, over } = await local(async function* (...given) {
      asked.push(given[2].from);
      if (given[2].from === asked[0]) throw new Error('not today');
      yield* readFacts(...given);
    });
    await trials.start(companyId, PROPOSED);
    const { summary, partsFailed } = await over('1');
    expect(asked.filter((from) => from === asked[0])).toHaveLength(3);
    expect({ partsFailed, tried: summary?.units }).toEqual({ partsFailed: 1, tried: 12 });
  });

  it('says that it came to nothing where it was stopped, or cannot be', async () => {
    const { trials, runner, over, store } = await local();
    await trials.start(companyId, PROPOSED);
    await runner.stop();
    expect(await over('1')).toMatchObject({ state: 'failed', failure: expect.stringContaining('stopped') });
    expect(await store.company('nobody')).toBeUndefined();
    await trials.start('nobody', PROPOSED);
    for (;;) {
      const look = await trials.look('nobody', '1');
      if (look?.state === 'running') continue;
      expect(look).toMatchObject({ state: 'failed', failure: expect.stringContaining('no such company') });
      break;
    }
  });

  it('takes the next number after a process that was killed half-way', async () => {
    const { trials, files, over } = await local();
    await files.put(
      `trials/${companyId}/4/plan.json`,
      JSON.stringify({ ...order(), until: 0, present: {}, proposed: {}, parts: 1, units: 1, trialId: '4' }),
    );
    expect(await trials.look(companyId, '4')).toMatchObject({ state: 'failed', partsDone: 0 });
    expect(await trials.start(companyId, {})).toBe('5');
    expect((await over('5')).state).toBe('done');
  });
});
