import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { alertSchema } from '../../shared/alertSchema.ts';
import { forecastSchema } from '../../shared/forecasts.ts';
import { MAX_EVENT_BYTES, QUARANTINE_REASONS } from '../../shared/quarantine.ts';
import { rejectionSchema } from '../../shared/rejectionSchema.ts';
import { brinebell, linesOf, outputsIn, scratch, summaryIn } from '../support/command.ts';
import { registryOf } from '../support/fleet.ts';
import { replayLines } from '../support/replayLines.ts';
import { event, lines, records } from '../support/smallFleet.ts';

const folder = scratch();
afterAll(folder.remove);
const units = folder.file('units.json', JSON.stringify(records));

const LONG = 'x'.repeat(MAX_EVENT_BYTES);
const salt = (value: unknown) => ({ data: { mass: { value, unit: '[lb_av]' } } });
const flow = (date: string, value: unknown) => ({
  type: 'brinebell.flow-day.v1',
  data: { date, volume: { value, unit: '[gal_us]' } },
});

/** A line of each kind that cannot be accepted, with the reason that the contract gives for it. */
const BAD_LINES: [what: string, reason: string, line: string][] = [
  ['over 65,536 bytes', 'too-large', event({ id: LONG })],
  ['no JSON', 'not-json', 'specversion: 1.0'],
  ['cut short', 'not-json', event({}).slice(0, 150)],
  ['NaN for a number', 'not-json', event(salt(0)).replace('"value":0', '"value":NaN')],
  ['JSON of another kind', 'not-an-event', '[1, 2, 3]'],
  ['no id', 'not-an-event', event({ id: '' })],
  ['a time without an offset', 'not-an-event', event({ time: '2026-03-20T12:00:00' })],
  ['a time that does not exist', 'not-an-event', event({ time: '2026-02-30T12:00:00Z' })],
  ['another type', 'unknown-type', event({ type: 'brinebell.water-quality.v1' })],
  ['another unit', 'unknown-unit', event({ source: '/companies/fenwick-water/units/u-99' })],
  ['another company', 'wrong-company', event({ source: '/companies/marsh-soft/units/u-17' })],
  ['a date that does not exist', 'invalid-data', event(flow('2026-02-30', 100))],
  ['a negative volume', 'invalid-data', event(flow('2026-03-10', -1))],
  ['a number as text', 'invalid-data', event(salt('40'))],
  ['null for a number', 'invalid-data', event(salt(null))],
  ['a time ahead of its receipt', 'in-the-future', event({ time: '2026-03-22T12:00:01Z' })],
];

describe('lines that cannot be accepted', () => {
  const good = lines.slice(0, 40);
  // Each bad line stands between good ones, under a blank one.
  const mixed = BAD_LINES.flatMap(([, , line], index) => [...good.slice(index * 2, index * 2 + 2), '', line]);
  const rest = good.slice(BAD_LINES.length * 2);
  const conflict = event({ id: JSON.parse(good[0] ?? '').id, time: '2026-03-20T11:00:00Z' });
  const events = folder.file('events.ndjson', [...mixed, conflict, ...rest].join('\n'));
  const out = folder.folder();
  const run = brinebell(['replay', events, '--units', units, '--out', out]);

  test('are each rejected under the first reason that applies, and nothing else is', () => {
    const rejected = linesOf(outputsIn(out)['rejected.ndjson'] ?? '').map((line) =>
      rejectionSchema.parse(JSON.parse(line)),
    );
    const expected = BAD_LINES.map(([, reason, raw], index) => ({
      line: index * 4 + 4,
      reason,
      raw: raw.slice(0, 1024),
    }));
    expect(rejected.map(({ line, reason, raw }) => ({ line, reason, raw }))).toEqual([
      ...expected,
      { line: mixed.length + 1, reason: 'conflicting-duplicate', raw: conflict },
    ]);
    expect(new Set(rejected.map(({ reason }) => reason))).toEqual(new Set(QUARANTINE_REASONS));
  });

  test('do not stop their neighbours, and every line counts once', () => {
    expect(run).toMatchObject({ status: 0, stderr: '' });
    expect(summaryIn(out)).toMatchObject({
      read: good.length + BAD_LINES.length + 1,
      accepted: good.length,
      duplicate: 0,
      quarantined: { total: BAD_LINES.length + 1, 'not-json': 3, 'conflicting-duplicate': 1 },
      complete: true,
    });
  });
});

test('what is written is what the published schemas say and what the same code finds in memory', () => {
  const out = folder.folder();
  const events = folder.file('events.ndjson', lines.join('\n'));
  expect(brinebell(['replay', events, '--units', units, '--out', out]).status).toBe(0);
  const inMemory = replayLines(lines, registryOf(...records));
  const alerts = linesOf(readFileSync(join(out, 'alerts.ndjson'), 'utf8')).map((line) =>
    alertSchema.parse(JSON.parse(line)),
  );
  const forecasts = linesOf(readFileSync(join(out, 'forecasts.ndjson'), 'utf8')).map((line) =>
    forecastSchema.parse(JSON.parse(line)),
  );
  const inOrder = [...inMemory.alerts].sort((a, b) =>
    `${a.raisedAt} ${a.unitId}` < `${b.raisedAt} ${b.unitId}` ? -1 : 1,
  );
  expect(alerts).toEqual(JSON.parse(JSON.stringify(inOrder)));
  expect(alerts.length).toBeGreaterThan(0);
  expect(forecasts.map(({ unitId, asOf }) => ({ unitId, asOf }))).toEqual(
    inMemory.forecasts.map(({ unitId, asOf }) => ({ unitId, asOf })),
  );
  forecasts.forEach((forecast, index) => {
    expect(forecast.remaining).toBeCloseTo(inMemory.forecasts[index]?.remaining ?? Number.NaN, 1);
  });
  const header =
    'region,month,units_reporting,unit_days,unit_days_missing,regenerations,water_treated_gal,salt_used_lb,' +
    'salt_measured_share,salt_inferred_share,regeneration_water_gal,grains_removed,grains_per_lb,chloride_lb';
  const [first, ...rows] = readFileSync(join(out, 'salt.csv'), 'utf8').split('\r\n');
  expect(first).toBe(header);
  expect(rows.map((row) => row.split(',').slice(0, 4).join())).toEqual([
    ...inMemory.salt.map((row) => [row.region, row.month, row.units_reporting, row.unit_days].join()),
    '',
  ]);
});
