import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { type TrialRow, trialRowSchema } from '../../lib/trial/row.ts';
import { trialSummarySchema } from '../../lib/trial/summary.ts';
import { compareText } from '../../shared/compareText.ts';
import { once } from '../../shared/once.ts';
import { brinebell, linesOf, scratch } from '../support/command.ts';
import { lines, records } from '../support/smallFleet.ts';

const folder = scratch();
afterAll(folder.remove);

/** Three units, one of which has a meter that stalls; among good lines one that is none, and copies. */
const small = {
  events: folder.file('events.ndjson', [...lines, 'no JSON', ...lines.slice(5, 9)].join('\n')),
  units: folder.file('units.json', JSON.stringify(records)),
};

/** A fleet with faults of all sorts, late, doubled and broken lines. */
const fleet = simulated();

function simulated() {
  const out = folder.folder();
  const simulate = ['simulate', '--out', out, '--units', '18', '--days', '130', '--seed', '8'];
  if (brinebell(simulate).status !== 0) throw new Error('no fleet to try rules on');
  return { events: join(out, 'events.ndjson'), units: join(out, 'units.json') };
}

/** Asks households later, and lets beds run over further before it says so. */
const PROPOSED = { 'no-flow': { routine: 0.5 }, overrun: { raise: 0.6 }, 'salt-low': { horizonDays: 60 } };
const proposed = folder.file('proposed.json', JSON.stringify(PROPOSED));

function tried({ events, units }: typeof small, ...options: string[]) {
  const out = folder.folder();
  const { status, stdout, stderr } = brinebell(['trial', events, '--units', units, '--out', out, ...options]);
  expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  const [trial = '', summary = '', page = ''] = ['trial.ndjson', 'summary.json', 'trial.html'].map((name) =>
    readFileSync(join(out, name), 'utf8'),
  );
  const rows = linesOf(trial).map((line) => trialRowSchema.parse(JSON.parse(line)));
  return {
    stdout,
    rows,
    files: { trial, summary, page },
    summary: trialSummarySchema.parse(JSON.parse(summary)),
  };
}

/** The rules proposed, tried on the fleet. */
const fleetTried = once(() => tried(fleet, '--rules', proposed));

/** The alerts of a replay, as its own file has them. */
function replayed({ events, units }: typeof small, ...options: string[]): string[] {
  const out = folder.folder();
  expect(brinebell(['replay', events, '--units', units, '--out', out, ...options]).status).toBe(0);
  return linesOf(readFileSync(join(out, 'alerts.ndjson'), 'utf8'))
    .map((line) => {
      const { evidence: _, ...alert } = JSON.parse(line);
      return inOrder(alert);
    })
    .sort();
}

function sideOf(rows: readonly TrialRow[], side: 'before' | 'after'): string[] {
  return rows
    .flatMap(({ unitId, kind, [side]: alert }) => (alert ? [inOrder({ unitId, kind, ...alert })] : []))
    .sort();
}

function inOrder(alert: Record<string, unknown>): string {
  return JSON.stringify(Object.entries(alert).sort(([a], [b]) => compareText(a, b)));
}

describe('brinebell trial', () => {
  it('shows exactly the alerts that two replays show, in both directions', () => {
    const before = replayed(fleet);
    const after = replayed(fleet, '--rules', proposed);
    expect(after.filter((alert) => !before.includes(alert)).length).toBeGreaterThan(3);
    expect(before.filter((alert) => !after.includes(alert)).length).toBeGreaterThan(3);
    const there = fleetTried();
    expect(sideOf(there.rows, 'before')).toEqual(before);
    expect(sideOf(there.rows, 'after')).toEqual(after);
    const plain = folder.file('defaults.json', '{}');
    const back = tried(fleet, '--against', proposed, '--rules', plain);
    expect(sideOf(back.rows, 'before')).toEqual(after);
    expect(sideOf(back.rows, 'after')).toEqual(before);
    expect([back.summary.alerts.gone, back.summary.alerts.new]).toEqual([
      there.summary.alerts.new,
      there.summary.alerts.gone,
    ]);
  });

  it('tells of a change whose effect is known', () => {
    // Nothing can be more certain than certain: the question about the meter that stalls half-way is never asked.
    const rules = folder.file(
      'never.json',
      JSON.stringify({ 'no-flow': { routine: 1, soonWhenLate: 1, soon: 1 } }),
    );
    const { rows, summary, stdout, files } = tried(small, '--rules', rules);
    const noFlow = rows.filter(({ kind }) => kind === 'no-flow');
    expect(noFlow.map(({ unitId, change }) => [unitId, change])).toEqual([['u-19', 'gone']]);
    expect(summary.rules.map(({ rule }) => rule)).toEqual([
      'no-flow.routine',
      'no-flow.soon',
      'no-flow.soonWhenLate',
    ]);
    expect(summary.mostChanged[0]).toMatchObject({ unitId: 'u-19' });
    expect(stdout).toMatch(/no-flow +1 +0 +1 +0 +0/);
    expect(Math.max(...stdout.split('\n').map((line) => line.length))).toBeLessThanOrEqual(110);
    expect(files.page).toContain('u-19');
    expect(files.page).not.toMatch(/NaN|undefined|<script/);
  });

  it('shows nothing where the rules are those that stand', () => {
    const { rows, summary, stdout, files } = tried(fleet, '--rules', proposed, '--against', proposed);
    expect(rows.length).toBeGreaterThan(0);
    expect(rows.filter(({ change }) => change !== 'same')).toEqual([]);
    expect(summary).toMatchObject({ rules: [], unitsTouched: 0, mostChanged: [], complete: true });
    expect(stdout).toMatch(/The rules proposed are those that stand.*No unit would see a difference/s);
    expect(files.page).not.toContain('<article>');
  });

  it('writes the same whatever the threads and the memory, by unit', () => {
    const { files, rows } = fleetTried();
    expect(tried(fleet, '--rules', proposed, '--threads', '4').files).toEqual(files);
    expect(tried(fleet, '--rules', proposed, '--threads', '2', '--memory', '0').files).toEqual(files);
    expect(rows.map(({ unitId }) => unitId)).toEqual(rows.map(({ unitId }) => unitId).sort());
  });

  it('ends where it is told to', () => {
    const until = '2025-04-01T12:00:00Z';
    const { rows, summary } = tried(fleet, '--rules', proposed, '--until', until);
    expect(summary.until).toBe('2025-04-01T12:00:00.000Z');
    expect(sideOf(rows, 'after')).toEqual(replayed(fleet, '--rules', proposed, '--until', until));
  });

  it('says what is wrong with what it is given, and writes nothing then', () => {
    const misspelt = folder.file('misspelt.json', JSON.stringify({ overrun: { rise: 1 } }));
    const broken = folder.file('broken.json', '{');
    const out = folder.folder();
    const refused = (args: string[], message: RegExp) => {
      const { status, stderr } = brinebell([
        ...['trial', small.events, '--units', small.units, '--out', out],
        ...args,
      ]);
      expect([args, status, stderr]).toEqual([args, 2, expect.stringMatching(message)]);
      expect(() => readFileSync(join(out, 'summary.json'))).toThrow();
    };
    refused(['--rules', misspelt], /misspelt\.json: overrun.*rise.*\n.*brinebell schema/);
    refused(['--rules', broken], /broken\.json is not JSON/);
    refused(['--rules', proposed, '--against', misspelt], /misspelt\.json: overrun/);
    refused(['--rules', join(folder.path, 'none.json')], /cannot read .*none\.json/);
    refused([], /required option '--rules/);
    refused(['--rules', proposed, '--threads', '0'], /whole number from 1 to 256/);
  });

  it('tries what can be read of a registry, and says what could not', () => {
    const some = folder.file('some.json', JSON.stringify([...records.slice(1), { unitId: 'u-17' }]));
    const out = folder.folder();
    const run = brinebell(['trial', small.events, '--units', some, '--rules', proposed, '--out', out]);
    expect(run).toMatchObject({
      status: 2,
      stderr: expect.stringMatching(/record 3 \(u-17\).*\n.*set aside/),
    });
    const summary = trialSummarySchema.parse(JSON.parse(readFileSync(join(out, 'summary.json'), 'utf8')));
    expect(summary).toMatchObject({ units: 2, complete: false });
    expect(readFileSync(join(out, 'trial.html'), 'utf8')).toContain('could not be read whole');
  });
});
