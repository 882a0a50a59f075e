// What the archive costs: bytes a fact, how long facts take to be archived, merged, read again and asked about in SQL.
// `node bench/run.js archive --units 200 --days 365 --batch 20`

import { mkdtemp, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { openArchive } from '../bin/sql/archiveDatabase.ts';
import { ask } from '../bin/sql/query.ts';
import { archive } from '../functions/archive/archive.ts';
import { compact } from '../functions/archive/compact.ts';
import { stored } from '../functions/archive/stored.ts';
import { archiveFolder } from '../infra/local/archiveFolder.ts';
import { recordOf } from '../infra/local/lambdaShape.ts';
import { QUEUES } from '../infra/topology.ts';
import { readFacts } from '../lib/archive/readFacts.ts';
import { parseFaultMix } from '../lib/simulation/faultMix.ts';
import { planFleet } from '../lib/simulation/plan.ts';
import { simulateFleet } from '../lib/simulation/simulate.ts';
import { recordOf as unitRecordOf } from '../lib/simulation/wire.ts';
import { admit } from '../shared/admission.ts';
import { chunks } from '../shared/chunks.ts';
import { toUnit } from '../shared/toUnit.ts';

const START = 20_089;
const QUIET = { debug() {}, info() {}, warn() {}, error: console.error };
/** Lines that `ingest` is handed at a time. */
const LINES_A_BATCH = QUEUES.ingest.batchSize;
const QUERIES = [
  'select count(*) as facts from facts',
  "select region, sum(volume_gal) as gallons from flow_days where month = '2025-03' group by region",
  'select month, count(*) as regenerations, avg(water_gal) as water_gal from regenerations group by month',
] as const;

const { values } = parseArgs({
  options: {
    units: { type: 'string', default: '200' },
    days: { type: 'string', default: '365' },
    seed: { type: 'string', default: '7' },
    /** Messages that are archived together, each of up to 100 facts; the more, the fewer files are to be merged. */
    batch: { type: 'string', default: '20' },
  },
});
const units = Number(values.units);
const days = Number(values.days);
const seed = Number(values.seed);
const batchSize = Number(values.batch);

const plans = planFleet({ units, days, start: START, seed, faults: parseFaultMix('balanced') });
const registry = new Map(
  plans.map(({ profile }) => [profile.unitId, toUnit(unitRecordOf(profile))] as const),
);
const folder = await mkdtemp(join(tmpdir(), 'brinebell-archive-'));
try {
  const files = archiveFolder(folder);
  const bodies = [...simulateFleet(plans, { seed, untidy: 0.02 })].flatMap(messagesOf);
  const facts = bodies.reduce((sum, { count }) => sum + count, 0);

  const archiving = archive(files, { log: QUIET });
  const archived = await timed(async () => {
    for (const batch of chunks(bodies, batchSize)) {
      const Records = batch.map(({ body }, index) =>
        recordOf('archive', { id: String(index), body, group: '', sentAt: 0, receives: 1 }),
      );
      const { batchItemFailures } = await archiving({ Records });
      if (batchItemFailures.length > 0) throw new Error('some messages failed');
    }
  });
  const before = await sizeOf();
  tell(`${facts} facts of ${units} units in ${days} days, in ${bodies.length} messages`);
  tell(`archived in ${archived} s (100,000 in ${((archived / facts) * 1e5).toFixed(1)} s): ${before.told}`);

  const merged = await timed(compact(files, { log: QUIET }));
  const after = await sizeOf();
  tell(`merged in ${merged} s: ${after.told}, ${(after.bytes / facts).toFixed(0)} bytes a fact`);
  tell(`merged again, with nothing to do, in ${await timed(compact(files, { log: QUIET }))} s`);

  const read = { lines: 0 };
  const [first = '', last = ''] = [plans[0]?.profile.unitId, plans[9]?.profile.unitId];
  const companyId = plans[0]?.profile.companyId ?? '';
  const took = await timed(async () => {
    for await (const { lines } of readFacts(files, companyId, { from: first, to: last })) {
      read.lines += lines.length;
    }
  });
  tell(`${read.lines} lines of ten units read in ${took} s`);

  for (const query of QUERIES) {
    const database = await openArchive(folder);
    const asked = await timed(async () => {
      for await (const _ of (await ask(database.connection, query)).rows);
    });
    await database.close();
    tell(`${asked} s: ${query}`);
  }

  async function sizeOf() {
    const paths = await files.list('facts/');
    const sizes = await Promise.all(paths.map(async (path) => (await stat(join(folder, path))).size));
    const bytes = sizes.reduce((sum, size) => sum + size, 0);
    return { bytes, told: `${paths.length} files, ${(bytes / 1e6).toFixed(1)} MB` };
  }
} finally {
  await rm(folder, { recursive: true });
}

/** What `ingest` would send of the lines of a day. */
function messagesOf(lines: readonly string[]): { body: string; count: number }[] {
  const facts = lines.flatMap((line) => {
    const admission = admit(line, registry);
    return admission.accepted ? [{ unit: admission.unit, lines: [line] }] : [];
  });
  return [...chunks(facts, LINES_A_BATCH)].flatMap((some) =>
    stored(some).map(({ body }) => ({ body, count: some.length })),
  );
}

async function timed(work: () => Promise<void>): Promise<number> {
  const before = performance.now();
  await work();
  return Math.round(performance.now() - before) / 1000;
}

function tell(text: string): void {
  console.log(text);
}
