import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { brinebell, scratch } from '../support/command.ts';

const folder = scratch();
afterAll(folder.remove);

test('advises on a unit in words, JSON and a chart, ranks a fleet, and refuses what it cannot tell', () => {
  const fleet = folder.folder();
  const simulate = ['simulate', '--out', fleet, '--units', '6', '--days', '200', '--seed', '11'];
  expect(brinebell([...simulate, '--faults', 'none', '--untidy', '0']).status).toBe(0);
  const events = join(fleet, 'events.ndjson');
  const units = ['--units', join(fleet, 'units.json')];

  const out = join(folder.path, 'advice.html');
  const json = join(folder.path, 'advice.json');
  const told = brinebell(['advise', 'unit-0001', events, ...units, '--out', out, '--json', json]);
  expect(told).toMatchObject({ status: 0, stderr: '' });
  const advice = JSON.parse(readFileSync(json, 'utf8'));
  expect(advice).toMatchObject({ unitId: 'unit-0001', mostHardDays: 3, history: { days: 200 } });
  expect(advice.saves.saltLb).toBeCloseTo(advice.today.saltLbAYear - advice.advised.saltLbAYear, 1);
  // What is written is what is in the JSON.
  const salt = [advice.today, advice.advised].map((each) =>
    Math.round(each.saltLbAYear).toLocaleString('en-US'),
  );
  expect(told.stdout).toMatch(new RegExp(`salt, lb +${salt.join(' +')}`));
  expect(told.stdout).toContain(`${advice.advised.settings.saltDoseLb} lb`);
  expect(told.stdout).toMatch(/200 local days.*put as a year by rate/s);
  expect(told.stdout).toMatch(/physician.*licensed practice/s);
  expect(Math.max(...told.stdout.split('\n').map((line) => line.length))).toBeLessThanOrEqual(110);
  const page = readFileSync(out, 'utf8');
  expect(page).toMatch(/role="img" aria-labelledby="chart-title chart-desc"/);
  expect(page).toMatch(
    /<title id="chart-title">[^<]*unit-0001<\/title>\s*<desc id="chart-desc">[^<]*Advised/,
  );
  expect(page).not.toContain('NaN');

  const ranked = brinebell(['advise', '--fleet', events, ...units, '--visits', '2', '--json', '-']);
  expect(ranked).toMatchObject({ status: 0, stderr: '' });
  const { visits, unitsAdvised, refused } = JSON.parse(ranked.stdout);
  const counts: number[] = Object.values(refused);
  expect(unitsAdvised + counts.reduce((sum, count) => sum + count, 0)).toBe(6);
  expect(visits.length).toBeLessThanOrEqual(2);

  // The first 30 days of it.
  const few = readFileSync(events, 'utf8')
    .split('\n')
    .filter((line) => /"recordedtime":"2025-01/.test(line));
  const early = folder.file('early.ndjson', few.join('\n'));
  expect(brinebell(['advise', 'unit-0001', early, ...units])).toMatchObject({
    status: 1,
    stdout: '',
    stderr: expect.stringMatching(/history-too-short: only \d+ local days are reported.*\n +Ask again/),
  });
  expect(brinebell(['advise', 'unit-9999', events, ...units])).toMatchObject({
    status: 2,
    stderr: expect.stringMatching(/unit-9999 is not in/),
  });
  expect(brinebell(['advise', 'unit-0001', ...units])).toMatchObject({ status: 2 });
});
