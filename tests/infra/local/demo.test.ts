import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { factPages, recordPages } from '../../../functions/everything.ts';
import { DEMO_COMPANY_ID, openDemo } from '../../../infra/local/demo/demo.ts';
import { DemoUnit } from '../../../infra/local/demo/demoUnit.ts';
import { startService } from '../../../infra/local/service.ts';
import { planFleet } from '../../../lib/simulation/plan.ts';
import { archivedLines } from '../../support/archiving.ts';

const DAY = 86_400_000;

let dataDir: string;

beforeEach(async () => {
  dataDir = await mkdtemp(join(tmpdir(), 'brinebell-demo-'));
});

afterEach(async () => {
  await rm(dataDir, { recursive: true });
});

test('a unit tells the same, each line when it is due, in however many steps it is asked', () => {
  const start = 20_000;
  const days = 60;
  const [plan] = planFleet({ units: 1, days, start, seed: 3, faults: {} });
  if (!plan) throw new Error('a fleet of one has a unit');
  const end = (start + days + 20) * DAY;
  const atOnce = new DemoUnit(plan).take(end);
  expect(atOnce.length).toBeGreaterThan(days);
  fc.assert(
    fc.property(fc.array(fc.integer({ min: start * DAY, max: end }), { maxLength: 10 }), (stops) => {
      const unit = new DemoUnit(plan);
      let before = 0;
      const told = [...stops.sort((a, b) => a - b), end].flatMap((until) => {
        const lines = unit.take(until);
        expect(lines.every(({ recorded }) => recorded <= until && recorded > before)).toBe(true);
        before = until;
        return lines;
      });
      expect(told).toEqual(atOnce);
      expect(unit.isOver).toBe(true);
    }),
  );
});

test('the demonstration has a history, its meters go on, and it goes on from there when it is started again', async () => {
  const errors: unknown[] = [];
  const quiet = () => {};
  const log = {
    debug: quiet,
    info: quiet,
    warn: quiet,
    error: (...what: unknown[]) => void errors.push(what),
  };
  const run = async () => {
    const demo = await openDemo({ dataDir, daysAMinute: 60, units: 4 });
    const listening = { host: '127.0.0.1', port: 0, mqttPort: 0 };
    const service = await startService({ dataDir, ...listening, env: {}, log, clock: demo.clock });
    const from = demo.clock.now();
    const shares: number[] = [];
    const onProgress = (share: number) => void shares.push(share);
    const { key, stop } = await demo.begin(service, { onProgress, signal: new AbortController().signal });
    const untold = async () => {
      const { files, ports } = service;
      const archived = await archivedLines(files, DEMO_COMPANY_ID);
      const missing: string[] = [];
      for await (const records of recordPages(ports.store, DEMO_COMPANY_ID)) {
        for (const { unitId } of records) {
          for await (const facts of factPages(ports.store, { companyId: DEMO_COMPANY_ID, unitId })) {
            const old = facts.filter(({ line }) => Date.parse(JSON.parse(line).recordedtime) <= from);
            missing.push(...old.map(({ line }) => line).filter((line) => !archived[unitId]?.includes(line)));
          }
        }
      }
      return { archived: Object.values(archived).flat().length, missing };
    };
    const get = async (path: string) => {
      const response = await fetch(service.url + path, { headers: { authorization: `Bearer ${key}` } });
      return JSON.parse(await response.text());
    };
    const lastReported = async (): Promise<string> => (await get('/v1/units/unit-0001')).lastReported;
    const end = async () => {
      await stop();
      await service.stop();
    };
    return { shares, get, lastReported, untold, files: service.files, end };
  };

  const first = await run();
  expect(first.shares).toEqual([0.25, 0.5, 0.75, 1]);
  const { archived, missing } = await first.untold();
  expect(archived).toBeGreaterThan(4 * 182);
  expect(missing).toEqual([]);
  expect((await first.files.list('accounts/')).length).toBeGreaterThan(5);
  expect((await first.get('/v1/units')).items).toHaveLength(4);
  const begun = await first.lastReported();
  await expect.poll(() => first.lastReported(), { timeout: 30_000 }).not.toBe(begun);
  await first.end();

  const second = await run();
  expect(second.shares).toEqual([]);
  const resumed = await second.lastReported();
  expect(resumed > begun).toBe(true);
  await expect.poll(async () => (await second.lastReported()) > resumed, { timeout: 30_000 }).toBe(true);
  await second.end();
  expect(errors).toEqual([]);
});
