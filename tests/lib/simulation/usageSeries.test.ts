import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { Chance } from '../../../lib/simulation/chance.ts';
import { planFleet } from '../../../lib/simulation/plan.ts';
import { simulateUnit } from '../../../lib/simulation/simulate.ts';
import { liveAgain, readUsage } from '../../../lib/simulation/usageSeries.ts';
import { formatLocalDate, parseLocalDate, weekdayOf } from '../../../shared/time/localDate.ts';

const START = parseLocalDate('2025-01-01') ?? 0;
const fixture = (name: string) =>
  readFileSync(new URL(`../../../fixtures/${name}/daily.csv`, import.meta.url), 'utf8');

test('the homes of a file are read, short records left out', () => {
  // Counts of meters with 90 days or more: the README of each.
  expect(readUsage(fixture('daiad-alicante'))).toHaveLength(45);
  expect(readUsage(fixture('weusedto-apartment'))).toHaveLength(5);
  const [house] = readUsage(fixture('ampds2-house'));
  expect(house?.gallons).toHaveLength(365);
  // 503.4 L on the first day.
  expect(house?.gallons[0]).toBeCloseTo(132.98, 2);
});

test.each([
  '',
  'meter_id,first_date\nA,2025-01-01',
  'meter_id,date,litres\nA,2025-02-30,5',
  'meter_id,date,gallons\nA,2025-02-03,-5',
  'meter_id,date,litres\nA,"2025',
])('%j is no file of daily use', (text) => {
  if (text === '') expect(readUsage(text)).toEqual([]);
  else expect(() => readUsage(text)).toThrow(expect.objectContaining({ code: 'usage-unreadable' }));
});

test('without a record long enough there is no fleet', () => {
  expect(() => planFleet({ units: 1, days: 30, start: START, seed: 1, faults: {}, usage: [] })).toThrow(
    expect.objectContaining({ code: 'usage-too-short' }),
  );
});

test('a home lives its record again: weekday by weekday, zeros as absences, missing days unreported', () => {
  // Each day's use is its date: what is lived tells which day of the record it was.
  const day = fc.oneof(
    { weight: 8, arbitrary: fc.constant('date') },
    fc.constant('zero'),
    fc.constant('missing'),
  );
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: 0xffff_ffff }),
      fc.integer({ min: 15_000, max: 20_000 }),
      fc.array(day, { minLength: 90, maxLength: 400 }),
      (seed, firstDate, kinds) => {
        const gallons = kinds.map((kind, i) =>
          kind === 'missing' ? undefined : kind === 'zero' ? 0 : firstDate + i,
        );
        const use = liveAgain({ meterId: 'A', firstDate, gallons }, START, 400, new Chance(seed));
        const away = new Set(
          use.absences.flatMap(({ first, last }) =>
            Array.from({ length: last - first + 1 }, (_, i) => first + i),
          ),
        );
        use.gallons.forEach((lived, i) => {
          expect(away.has(i)).toBe(lived === 0 && !use.unreported.has(i));
          if (lived === 0 || use.unreported.has(i)) return;
          expect(weekdayOf(lived)).toBe(weekdayOf(START + i));
        });
      },
    ),
    { numRuns: 50 },
  );
});

test('what a real home drew is what its unit reports, and nothing is reported of a missing day', () => {
  const [plan] = planFleet({
    units: 1,
    days: 365,
    start: START,
    seed: 4,
    faults: {},
    usage: readUsage(fixture('daiad-alicante')).filter(({ gallons }) => gallons.includes(undefined)),
  });
  if (!plan) throw new Error('no plan');
  const flow = simulateUnit({ ...plan, profile: { ...plan.profile, metric: false } }).events.flatMap(
    (event) =>
      event.type === 'brinebell.flow-day.v1' ? [[event.data.date, event.data.volume.value] as const] : [],
  );
  const expected = plan.use.gallons.flatMap((gallons, i) =>
    plan.use.unreported.has(i) ? [] : [[formatLocalDate(START + i), Math.round(gallons * 10) / 10] as const],
  );
  expect(plan.use.unreported.size).toBeGreaterThan(0);
  expect(flow.map(([date]) => date)).toEqual(expected.map(([date]) => date));
  flow.forEach(([, value], i) => {
    expect(value).toBeCloseTo(expected[i]?.[1] ?? Number.NaN, 0);
  });
});
