import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { scoreSchema } from '../../lib/score/score.ts';
import { brinebell, scratch } from '../support/command.ts';

const folder = scratch();
afterAll(folder.remove);

function simulated(seed: string): { fleet: string; out: string } {
  const fleet = folder.folder();
  const out = folder.folder();
  const faults = 'silent=0.25,regeneration-missed=0.25';
  const made = brinebell([
    'simulate',
    '--out',
    fleet,
    '--units',
    '12',
    '--days',
    '120',
    '--seed',
    seed,
    '--faults',
    faults,
  ]);
  expect(made).toMatchObject({ status: 0, stderr: '' });
  const events = join(fleet, 'events.ndjson');
  expect(brinebell(['replay', events, '--units', join(fleet, 'units.json'), '--out', out]).status).toBe(0);
  return { fleet, out };
}

test('a replay is scored against the fleet that it was of, and against no other', () => {
  const one = simulated('61');
  const json = join(folder.path, 'score.json');
  const { status, stdout, stderr } = brinebell(['score', one.fleet, one.out, '--json', json]);
  expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  expect(stdout).toMatch(/12 units, 6 of them healthy/);
  expect(stdout).toMatch(/silent +3 +1\.000/);
  expect(Math.max(...stdout.split('\n').map((line) => line.length))).toBeLessThanOrEqual(110);
  const score = scoreSchema.parse(JSON.parse(readFileSync(json, 'utf8')));
  expect(score.faults.find(({ fault }) => fault === 'silent')?.recall).toBe(1);
  expect(score.baselines?.find(({ kind, by }) => kind === 'silent-unit' && by === 'never')?.recall).toBe(0);
  expect(score.runs?.boundCurve).not.toBeNull();
  // Standard output is JSON and nothing else, so that it can be piped on.
  const piped = brinebell(['score', one.fleet, one.out, '--json', '-']);
  expect(piped).toEqual({ status: 0, stdout: readFileSync(json, 'utf8'), stderr: '' });
  expect(brinebell(['score', one.fleet, one.out, '--json', one.out])).toMatchObject({
    status: 2,
    stdout: '',
    stderr: expect.stringMatching(/cannot write to .*it is a folder\n.*--json/),
  });

  const truth = join(one.fleet, 'truth.json');
  writeFileSync(truth, readFileSync(truth, 'utf8').replaceAll('unit-0001', 'unit-9001'));
  expect(brinebell(['score', one.fleet, one.out])).toMatchObject({
    status: 2,
    stderr: expect.stringMatching(/unit-9001 is not in .*units\.json\n +Score a replay against the fleet/),
  });
});

test('what cannot be scored is told in one line, with what to do', () => {
  const { fleet, out } = simulated('62');
  expect(brinebell(['score', fleet, folder.folder()])).toMatchObject({
    status: 2,
    stdout: '',
    stderr: expect.stringMatching(/alerts\.ndjson.*no such file/),
  });
  const events = join(fleet, 'events.ndjson');
  const whole = readFileSync(events, 'utf8');
  rmSync(events);
  expect(brinebell(['score', fleet, out])).toMatchObject({
    status: 2,
    stdout: '',
    stderr: expect.stringMatching(/events\.ndjson.*no such file/),
  });
  writeFileSync(events, whole);
  const summary = join(out, 'summary.json');
  const told = readFileSync(summary, 'utf8');
  writeFileSync(summary, told.replace(/"read": \d+/, '"read": 7'));
  expect(brinebell(['score', fleet, out])).toMatchObject({
    status: 2,
    stdout: '',
    stderr: expect.stringMatching(
      /is a replay of 7 lines, and .* has \d+\n +Score a replay against the fleet/,
    ),
  });
  writeFileSync(summary, told);
  writeFileSync(join(out, 'alerts.ndjson'), '{"unitId":"unit-0001"}\n');
  expect(brinebell(['score', fleet, out])).toMatchObject({
    status: 2,
    stderr: expect.stringMatching(/alerts\.ndjson: kind/),
  });
  writeFileSync(join(fleet, 'simulation.json'), 'not JSON');
  expect(brinebell(['score', fleet, out])).toMatchObject({
    status: 2,
    stderr: expect.stringMatching(/simulation\.json is not JSON[^\n]*\n[^\n]*brinebell simulate/),
  });
});
