import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { parse } from 'csv-parse/sync';
import { connectAsync } from 'mqtt';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { COMMAND, scratch } from '../../support/command.ts';
import { wire } from '../../support/events.ts';
import { unitRecord } from '../../support/fleet.ts';
import { runningService } from '../../support/runningService.ts';

const COMPANY = 'fenwick-water';
const UNITS = Array.from({ length: 200 }, (_, index) => `unit-${String(index + 1).padStart(4, '0')}`);
const DAY = 86_400_000;

const folder = scratch();
let service: Awaited<ReturnType<typeof runningService>>;
let keyFile: string;
let units: string;

beforeAll(async () => {
  service = await runningService(COMPANY);
  keyFile = folder.file('key', `${service.key}\n`);
  units = folder.file('units.json', JSON.stringify(UNITS.map((unitId) => unitRecord({ unitId }))));
});

afterAll(async () => {
  await service.stop();
  folder.remove();
});

/** Starts the command beside the service, which is in this process and must be free to answer. */
function start(
  args: readonly string[],
): ChildProcess & { ended: Promise<{ status: number | null; text: string }> } {
  const child = spawn(process.execPath, [COMMAND, 'enroll', ...args], { stdio: ['ignore', 'pipe', 'pipe'] });
  let text = '';
  for (const stream of [child.stdout, child.stderr])
    stream.setEncoding('utf8').on('data', (some) => (text += some));
  const ended = once(child, 'close').then(([status]) => ({ status: status as number | null, text }));
  return Object.assign(child, { ended });
}

const enroll = (...args: readonly string[]) =>
  start([...args, '--service', service.url, '--key-file', keyFile]).ended;

function rowsIn(path: string): Record<string, string>[] {
  return existsSync(path)
    ? parse(readFileSync(path, 'utf8'), { columns: true, relax_column_count: true })
    : [];
}

/** The one row of a unit. */
function rowOf(path: string, unitId: string): Record<string, string> {
  const [row, ...more] = rowsIn(path).filter((each) => each.unit_id === unitId);
  if (!row || more.length > 0) throw new Error(`${unitId} has ${more.length + (row ? 1 : 0)} rows`);
  return row;
}

const signIn = ({ username, password }: Record<string, string>) =>
  connectAsync(service.mqttUrl, { ...(username && password && { username, password }), reconnectPeriod: 0 });

test('200 units are enrolled although the run is killed, and their meters sign in', async () => {
  const out = `${folder.folder()}.csv`;
  const args = [units, '--out', out, '--service', service.url, '--key-file', keyFile];
  const first = start([...args, '--at-once', '1']);
  await expect.poll(() => rowsIn(out).length, { timeout: 30_000, interval: 5 }).toBeGreaterThan(40);
  first.kill('SIGKILL');
  await first.ended;
  const before = rowsIn(out).filter(({ issued_at: at = '' }) => at.endsWith('Z'));
  expect(before.length).toBeLessThan(UNITS.length);
  expect(existsSync(`${out}.asked`)).toBe(true);

  const second = await start(args).ended;
  expect(second).toMatchObject({ status: 0, text: expect.stringContaining('200 units in the registry') });
  expect(second.text).toContain(`${before.length} had one there`);
  const rows = rowsIn(out);
  expect(rows.map((row) => row.unit_id).sort()).toEqual(UNITS);
  // What was there is as it was.
  for (const row of before) expect(rows).toContainEqual(row);
  expect(statSync(out).mode & 0o777).toBe(0o600);
  expect(existsSync(`${out}.asked`)).toBe(false);
  expect(new Set(rows.map((row) => row.password)).size).toBe(200);

  // Those around the kill are the ones that might be wrong; and the first and last.
  const around = [0, before.length - 1, before.length, before.length + 1, 199];
  const tried = around.map((index) => UNITS[index] ?? '');
  for (const unitId of tried) {
    const meter = await signIn(rowOf(out, unitId));
    const mass = { value: 100, unit: '[lb_av]' };
    const source = `/companies/${COMPANY}/units/${unitId}`;
    const event = { ...wire('salt-level', `level-${unitId}`, Date.now() - DAY, { mass }), source };
    await meter.publishAsync(rowOf(out, unitId).topic ?? '', JSON.stringify(event), { qos: 1 });
    await meter.endAsync();
  }
  await service.settled();
  for (const unitId of tried) {
    expect(await service.get(`/v1/units/${unitId}/events`)).toContain(`level-${unitId}`);
  }

  const third = await start(args).ended;
  expect(third).toMatchObject({ status: 0, text: expect.stringContaining('0 units given a credential') });
  expect(rowsIn(out)).toEqual(rows);
});

test('another credential puts the one before out of use, and one that is revoked is refused', async () => {
  const out = `${folder.folder()}.csv`;
  const some = folder.file(
    'some.json',
    JSON.stringify(['r-1', 'r-2'].map((unitId) => unitRecord({ unitId }))),
  );
  expect(await enroll(some, '--out', out)).toMatchObject({ status: 0 });
  const before = rowOf(out, 'r-1');
  const other = rowOf(out, 'r-2');
  expect(await enroll('--rotate', 'r-1', 'r-1', '--out', out)).toMatchObject({
    ...{ status: 0, text: expect.stringContaining('1 unit given another credential') },
  });
  await expect(signIn(before)).rejects.toMatchObject({ code: 4 });
  await (await signIn(rowOf(out, 'r-1'))).endAsync();
  expect(rowOf(out, 'r-2')).toEqual(other);

  const after = rowOf(out, 'r-1');
  const revoked = await enroll('--revoke', 'r-1', 'nobody', '--out', out);
  expect(revoked).toMatchObject({
    status: 1,
    text: expect.stringContaining('nobody: There is no such unit'),
  });
  expect(rowsIn(out).map((row) => row.unit_id)).toEqual(['r-2']);
  await expect(signIn(after)).rejects.toMatchObject({ code: 4 });
  await (await signIn(other)).endAsync();
  expect(await enroll('--revoke', 'r-2')).toMatchObject({ status: 0 });
  await expect(signIn(other)).rejects.toMatchObject({ code: 4 });
});

test('a meter that works is not cut off by chance; what a kill left unseen is made anew', async () => {
  const out = `${folder.folder()}.csv`;
  const some = folder.file(
    'some.json',
    JSON.stringify(['w-1', 'w-2'].map((unitId) => unitRecord({ unitId }))),
  );
  await service.ask('PUT', '/v1/units', readFileSync(some, 'utf8'));
  const works = JSON.parse(await service.ask('POST', '/v1/units/w-1/credential'));
  const refused = await enroll(some, '--out', out);
  expect(refused).toMatchObject({
    status: 1,
    text: expect.stringMatching(/w-1: it has a credential .* --rotate/),
  });
  expect(rowsIn(out).map((row) => row.unit_id)).toEqual(['w-2']);
  await (await signIn(works)).endAsync();

  // A process that has ended.
  const { pid } = spawnSync(process.execPath, ['--version']);
  writeFileSync(`${out}.asked`, `${pid}\nw-1\n`);
  expect(await enroll(some, '--out', out)).toMatchObject({ status: 0 });
  await (await signIn(rowOf(out, 'w-1'))).endAsync();

  writeFileSync(`${out}.asked`, `${process.pid}\n`);
  expect(await enroll(some, '--out', out)).toMatchObject({
    ...{ status: 2, text: expect.stringMatching(/another run, process \d+, is at work/) },
  });
});

test('records that are wrong fail, and the others are enrolled', async () => {
  const out = `${folder.folder()}.csv`;
  const lines = [
    JSON.stringify(unitRecord({ unitId: 'm-1' })),
    JSON.stringify(unitRecord({ unitId: 'm-2', companyId: 'another' })),
    '{"unitId": "m-3"}',
    'no JSON',
    JSON.stringify(unitRecord({ unitId: 'm-4' })),
  ];
  const { status, text } = await enroll(folder.file('mixed.ndjson', lines.join('\n')), '--out', out);
  expect(status).toBe(1);
  expect(text).toMatch(/ {2}m-2: companyId: must be fenwick-water/);
  expect(text).toMatch(/ {2}m-3: .*\n {2}record 4: is not JSON/);
  expect(text).toMatch(/3 units failed/);
  // Whichever has been given its credential first.
  expect(
    rowsIn(out)
      .map((row) => row.unit_id)
      .sort(),
  ).toEqual(['m-1', 'm-4']);
});

test('a dry run says what would be done, and does nothing', async () => {
  const out = `${folder.folder()}.csv`;
  const some = folder.file('some.json', JSON.stringify([unitRecord({ unitId: 'dry-1' })]));
  const { status, text } = await enroll(some, '--out', out, '--dry-run');
  expect({ status, text }).toEqual({
    status: 0,
    text: expect.stringMatching(/1 unit would be given a credential/),
  });
  expect([existsSync(out), existsSync(`${out}.asked`)]).toEqual([false, false]);
  await expect(service.get('/v1/units/dry-1')).rejects.toThrow('404');
});

test('a dry run for units that are named says which of them there are, and leaves their credentials', async () => {
  const out = `${folder.folder()}.csv`;
  const some = folder.file('named.json', JSON.stringify([unitRecord({ unitId: 'named-1' })]));
  await enroll(some, '--out', out);
  const before = readFileSync(out, 'utf8');
  for (const [mode, would] of [
    ['--rotate', '1 unit would be given another credential'],
    ['--revoke', '1 unit would be revoked'],
  ] as const) {
    const { status, text } = await enroll(mode, 'named-1', 'nobody', '--out', out, '--dry-run');
    expect(status).toBe(1);
    expect(text).toContain(would);
    expect(text).toContain('nobody: There is no such unit');
  }
  expect(readFileSync(out, 'utf8')).toBe(before);
  const again = folder.file('again.json', JSON.stringify([unitRecord({ unitId: 'named-1' })]));
  const { text } = await enroll(again, '--out', `${folder.folder()}.csv`);
  expect(text).toContain('it has a credential that is not in the file');
});

test('what is wrong with all of it is told, with what to do, and nothing is made', async () => {
  const out = `${folder.folder()}.csv`;
  const own = ['--service', service.url, '--key-file', keyFile, '--out', out];
  const wrongKey = folder.file('wrong', `${service.key}x`);
  const noKey = folder.file('none', 'hunter2');
  const nowhere = ['--service', 'http://127.0.0.1:1', '--key-file', keyFile, '--out', out];
  const deep = ['--service', `${service.url}/v1`, '--key-file', keyFile, '--out', out];
  const cases: [string[], number, RegExp][] = [
    [[units, ...deep], 1, /without \/v1/],
    [[units, '--bogus'], 2, /brinebell enroll --help/],
    [[...own], 2, /give a registry, --rotate or --revoke/],
    [[units, '--rotate', 'u', ...own], 2, /one of them only/],
    [[units, '--service', service.url, '--key-file', keyFile], 2, /--out/],
    [[units, '--service', 'water.example', '--key-file', keyFile, '--out', out], 2, /must be a URL/],
    [[units, '--service', service.url, '--key-file', wrongKey, '--out', out], 2, /The key is not valid/],
    [[units, '--service', service.url, '--key-file', noKey, '--out', out], 2, /holds no key of a company/],
    [[units, '--service', service.url, '--key-file', 'nowhere', '--out', out], 2, /there is no such file/],
    [['nowhere.json', ...own], 2, /there is no such file/],
    [[folder.file('bad.json', '[{'), ...own], 2, /cannot be read/],
    [[units, ...nowhere], 1, /127\.0\.0\.1:1: .*\n.*do the same again/],
  ];
  const answers = await Promise.all(cases.map(([args]) => start(args).ended));
  for (const [index, { status, text }] of answers.entries()) {
    const [, expected, pattern] = cases[index] ?? [];
    expect(text).toMatch(pattern ?? '');
    expect(status, text).toBe(expected);
    expect(text).not.toContain('hunter2');
  }
  expect(existsSync(out)).toBe(false);

  // The credentials of another company, or of another service, are not mixed with these.
  expect(
    await enroll(folder.file('one.json', JSON.stringify([unitRecord({ unitId: 'o-1' })])), '--out', out),
  ).toMatchObject({ status: 0 });
  const text = readFileSync(out, 'utf8');
  writeFileSync(out, text.replaceAll(COMPANY, 'gull-softening'));
  expect(await enroll(units, '--out', out)).toMatchObject({
    ...{ status: 2, text: expect.stringMatching(/credentials of gull-softening at .*Choose another file/s) },
  });
});
