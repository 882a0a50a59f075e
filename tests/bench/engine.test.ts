import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { buildScript } from '../../bench/set/buildScript.ts';
import { brinebell, scratch, summaryIn } from '../support/command.ts';

/** A comparison of time is worth something only where both sides have done the same work. */

const { folder, remove } = scratch();
const fleet = folder();
const replayed = folder();
const bySql = folder();

beforeAll(() => {
  const events = join(fleet, 'events.ndjson');
  const units = join(fleet, 'units.json');
  // Much goes wrong on the way: copies, corrections, days missing, lines cut short, units and types unheard of.
  const untidy = ['--units', '16', '--days', '150', '--seed', '23', '--untidy', '0.25'];
  expect(brinebell(['simulate', '--out', fleet, ...untidy]).status).toBe(0);
  expect(brinebell(['replay', events, '--units', units, '--out', replayed]).status).toBe(0);
  const script = buildScript('bench/comparisons/engine/fleetSqlProcess.ts');
  execFileSync(process.execPath, [script, events, units, bySql, '2']);
});
afterAll(remove);

test('the script in SQL lets in and sets aside as many events as a replay', () => {
  const { accepted, duplicate, quarantined } = summaryIn(replayed);
  expect(quarantined.total).toBeGreaterThan(50);
  expect(duplicate).toBeGreaterThan(50);
  const [counts] = rowsOf(join(bySql, 'counts.csv'));
  expect(counts).toMatchObject({ accepted: String(accepted), duplicate: String(duplicate) });
});

test('it has the same days, gallons and regenerations by region and month', () => {
  const ours = accountsOf(replayed).filter(({ unit_days, regenerations }) => unit_days + regenerations > 0);
  const theirs = accountsOf(bySql);
  expect(ours.length).toBeGreaterThan(10);
  expect(theirs.map(({ gallons, ...row }) => row)).toEqual(ours.map(({ gallons, ...row }) => row));
  // salt.csv has one decimal.
  theirs.forEach(({ gallons }, index) => {
    expect(Math.abs(gallons - (ours[index]?.gallons ?? Number.NaN))).toBeLessThan(0.051);
  });
});

function accountsOf(folder: string) {
  return rowsOf(join(folder, 'salt.csv')).map(
    ({ region, month, unit_days, regenerations, water_treated_gal }) => ({
      ...{ region, month, unit_days: Number(unit_days), regenerations: Number(regenerations) },
      gallons: Number(water_treated_gal),
    }),
  );
}

function rowsOf(path: string): Record<string, string>[] {
  return parse(readFileSync(path), { columns: true });
}
