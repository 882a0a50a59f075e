// What the nightly report costs in time and memory: the first run, which writes all files; one night later, with a fact
// late for an old month; and what is left of both when only sums are held. `node bench/run.js report --units 5000 --months 36`
// Histories of a few simulated units are told of many; what the table takes to answer is not in it.

import { mkdtemp, readdir, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { report } from '../functions/report.ts';
import { archiveFolder } from '../infra/local/archiveFolder.ts';
import { follow } from '../lib/live/follow.ts';
import { newHead } from '../lib/live/head.ts';
import type { MonthAccount } from '../lib/salt/monthAccount.ts';
import { parseFaultMix } from '../lib/simulation/faultMix.ts';
import { planFleet } from '../lib/simulation/plan.ts';
import { simulateUnit } from '../lib/simulation/simulate.ts';
import type { StoredHead } from '../lib/store/store.ts';
import { rulesSchema } from '../lib/watch/rules.ts';
import type { UnitRecord } from '../shared/registry.ts';
import { toFact } from '../shared/toFact.ts';
import { toUnit } from '../shared/toUnit.ts';
import { memoryStore } from '../tests/support/memoryStore.ts';
import { noLog } from '../tests/support/pipeline.ts';

const { values } = parseArgs({
  options: {
    units: { type: 'string', default: '5000' },
    months: { type: 'string', default: '36' },
    regions: { type: 'string', default: '10' },
    seed: { type: 'string', default: '7' },
    histories: { type: 'string', default: '20' },
  },
});
const units = Number(values.units);
const regions = Number(values.regions);
const histories = Number(values.histories);
const days = Math.round(Number(values.months) * 30.4);
/** 2023-01-01. */
const START = 19_358;
const COMPANY = 'a-company';
const PAGE = 500;
const rules = rulesSchema.parse({});

interface History {
  readonly record: UnitRecord;
  readonly stored: StoredHead;
  readonly closed: readonly MonthAccount[];
}

const plans = planFleet({
  ...{ units: histories, days, start: START, seed: Number(values.seed), faults: parseFaultMix('demo') },
});
const told = plans.map((plan): History => {
  const { record, events } = simulateUnit(plan);
  const unit = toUnit(record);
  const facts = events.map((event) => toFact(event, unit.zone));
  const { head, months } = follow(unit, newHead(unit, rules.fold), facts, { rules });
  const closed = months.filter(({ from }) => from !== head.state.month.from);
  const outbox = { alerts: [], withdrawn: [], handled: [], months: [], lostMonths: [], transitions: [] };
  return { record, closed, stored: { head, basis: '', outbox } };
});
let now = (START + days) * 86_400_000;
/** A unit whose account of an old month is another since yesterday. */
let corrected = -1;

const numberOf = (unitId: string) => Number(unitId.slice(2));
const historyOf = (unitId: string) => told[numberOf(unitId) % histories] as History;
const store = {
  ...memoryStore(),
  companies: async () => [{ companyId: COMPANY, name: '', channels: [], rules: {} }],
  records: async (_: string, { limit, cursor = '0' }: { limit: number; cursor?: string | undefined }) => {
    const from = Number(cursor);
    const to = Math.min(units, from + Math.min(limit, PAGE));
    const items = Array.from({ length: to - from }, (_each, index) => {
      const unitId = `u-${String(from + index).padStart(7, '0')}`;
      return {
        ...historyOf(unitId).record,
        unitId,
        companyId: COMPANY,
        region: `region-${(from + index) % regions}`,
      };
    });
    return { items, ...(to < units && { next: String(to) }) };
  },
  unit: async ({ unitId }: { unitId: string }) => ({
    record: undefined,
    stored: historyOf(unitId).stored,
    version: 1,
  }),
  // What a table answers is new each time.
  months: async ({ unitId }: { unitId: string }) =>
    historyOf(unitId).closed.map((account, index) => ({
      ...account,
      ...(numberOf(unitId) === corrected && index === 3 && { treatedGallons: account.treatedGallons + 1 }),
    })),
};

const folder = await mkdtemp(join(tmpdir(), 'brinebell-report-'));
try {
  const files = archiveFolder(folder);
  let put = 0;
  const counted = {
    ...files,
    put: async (...args: Parameters<typeof files.put>) => {
      put += 1;
      await files.put(...args);
    },
  };
  const run = async (name: string) => {
    put = 0;
    let most = 0;
    const watch = setInterval(() => {
      most = Math.max(most, process.memoryUsage().heapUsed);
    }, 20);
    const cpu = process.cpuUsage();
    const started = performance.now();
    await report({ store, now: () => now, log: noLog }, counted)();
    clearInterval(watch);
    const { user, system } = process.cpuUsage(cpu);
    console.log(
      `${name}: ${((performance.now() - started) / 1000).toFixed(1)} s, ${((user + system) / 1e6).toFixed(1)} s of processors, ${put} files put, heap up to ${(most / 1e6).toFixed(0)} MB, resident ${(process.memoryUsage.rss() / 1e6).toFixed(0)} MB`,
    );
  };
  console.log(
    `${units} units, ${days} days, ${regions} regions; ${(process.memoryUsage().heapUsed / 1e6).toFixed(0)} MB before`,
  );
  await run('first run');
  now += 3_600_000;
  await run('again with nothing new');
  corrected = 17;
  now += 86_400_000;
  await run('one night later, with a month of one unit corrected');
  console.log(await sizes());
} finally {
  await rm(folder, { recursive: true, force: true });
}

async function sizes(): Promise<string> {
  const found = await readdir(folder, { recursive: true, withFileTypes: true });
  const all = await Promise.all(
    found
      .filter((entry) => entry.isFile())
      .map(async ({ parentPath, name }) => ({
        path: join(parentPath, name),
        size: (await stat(join(parentPath, name))).size,
      })),
  );
  const of = (part: string) => {
    const some = all.filter(({ path }) => path.includes(`/${part}/`));
    return `${part}: ${some.length} files, ${(some.reduce((sum, { size }) => sum + size, 0) / 1e6).toFixed(2)} MB`;
  };
  return ['accounts', 'estimates', 'reports'].map(of).join('; ');
}
