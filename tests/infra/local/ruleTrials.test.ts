import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import * as z from 'zod';
import { type DemoService, startDemo } from '../../console/demoService.ts';
import { brinebell, scratch } from '../../support/command.ts';

const RULES = { overrun: { raise: 0.8 }, 'no-flow': { routine: 0.4 }, 'salt-low': { horizonDays: 60 } };
const RESULTS = ['trial.ndjson', 'trial.html', 'summary.json'];

const folder = scratch();
let demo: DemoService;

beforeAll(async () => {
  demo = await startDemo(24);
}, 120_000);

afterAll(async () => {
  await demo.stop();
  folder.remove();
});

it('tries rules in a thread of the running service, as the command does on its archive and on its backup', async () => {
  const { service, companyId, dataDir } = demo;
  const call = async (key: string, method: string, path: string, body?: unknown) => {
    const headers = { authorization: `Bearer ${key}`, 'content-type': 'application/json' };
    const init = body === undefined ? {} : { body: JSON.stringify(body) };
    return (await fetch(service.url + path, { method, headers, ...init })).text();
  };
  const made = await call(service.operatorKey, 'POST', `/v1/companies/${companyId}/keys`);
  const { key } = z.object({ key: z.string() }).parse(JSON.parse(made));
  const started = await call(key, 'POST', '/v1/rule-trials', { rules: RULES });
  const { trialId } = z.object({ trialId: z.string() }).parse(JSON.parse(started));
  const look = async () => JSON.parse(await call(key, 'GET', `/v1/rule-trials/${trialId}`));
  await expect
    .poll(async () => (await look()).state, { timeout: 100_000, interval: 200 })
    .not.toBe('running');
  const { state, until, summary } = await look();
  expect({ state, units: summary?.units, complete: summary?.complete }).toEqual({
    ...{ state: 'done', units: 24, complete: true },
  });
  expect(summary.alerts.before).toBeGreaterThan(0);
  const [gone, fresh] = [summary.alerts.gone, summary.alerts.new];
  expect(gone + fresh).toBeGreaterThan(0);

  const units = folder.file('units.ndjson', await call(key, 'GET', '/v1/backup/units.ndjson'));
  const backup = folder.file('events.ndjson', await call(key, 'GET', '/v1/backup/events.ndjson'));
  const company = JSON.parse(await call(key, 'GET', '/v1/company'));
  const rules = ['--rules', folder.file('rules.json', JSON.stringify(RULES))];
  const against = ['--against', folder.file('against.json', JSON.stringify(company.rules))];
  const found = (path: string) => RESULTS.map((name) => readFileSync(join(path, name), 'utf8'));
  const expected = found(join(dataDir, 'archive', 'trials', companyId, trialId));
  for (const from of [['--data', dataDir], [backup]]) {
    const out = folder.folder();
    const args = ['trial', ...from, '--units', units, '--out', out, '--until', until, ...rules, ...against];
    expect(brinebell(args)).toMatchObject({ status: 0, stderr: '' });
    expect(found(out)).toEqual(expected);
  }
}, 200_000);

it('says where there is no archive', () => {
  const units = folder.file('none.json', '[]');
  const rules = ['--rules', folder.file('r.json', '{}'), '--units', units, '--out', folder.folder()];
  expect(brinebell(['trial', '--data', join(folder.path, 'nowhere'), ...rules])).toMatchObject({
    status: 2,
    stderr: expect.stringMatching(/nowhere.archive: there is no such file or folder\n.*--data/),
  });
  expect(brinebell(['trial', ...rules])).toMatchObject({
    status: 2,
    stderr: expect.stringMatching(/one place/),
  });
});
