import fc from 'fast-check';
import { expect, test } from 'vitest';
import { endOf, startOf } from '../../../console/figures/siteTime.ts';
import { daysLater } from '../../../console/show/dates.ts';
import { runsOf, timelineOf } from '../../../console/unit/timeline.ts';
import type { Story } from '../../../console/unit/types.ts';

const FROM = '2026-02-20';
const TODAY = '2026-04-10';
const LENGTH = 49;

/** Days since the first, each with what was reported of it. */
const reports = fc.uniqueArray(fc.record({ day: fc.nat(LENGTH), isHard: fc.boolean() }), {
  selector: ({ day }) => day,
});

function storyWith(
  days: readonly { day: number; isHard: boolean }[],
  planned: readonly string[] = [],
): Story {
  const told = days
    .toSorted((a, b) => a.day - b.day)
    .map(({ day, isHard }) => ({
      ...{ date: daysLater(FROM, day), gallons: 100, remainingGallons: 500, believedGallons: null, isHard },
    }));
  return {
    unit: {
      ...{
        unitId: 'u-1',
        siteId: 's-1',
        siteName: null,
        address: null,
        region: 'r',
        round: null,
        timeZone: 'America/Denver',
      },
      ...{ arrangement: 'single', resinCubicFeet: 1, saltDoseLb: 8, hardnessGpg: 10, inService: true },
      programmed: { hardnessGpg: 10, capacityGrains: 20_000, regenerationHour: 2 },
    },
    ...{ from: FROM, lastReported: told.at(-1)?.date ?? null, days: told },
    ...{ regenerations: [], visits: [], alerts: [], forecast: null, fan: [] },
    planned: planned.map((date) => ({
      ...{ visitId: 'v-1', technician: 't-1', date, reason: 'why', by: 'who', at: '2026-04-01T00:00:00Z' },
    })),
  };
}

test('every day from the first that is known of stands on the axis once, and is one thing only', () => {
  fc.assert(
    fc.property(reports, (given) => {
      const { days, from, to, unknownBefore } = timelineOf(storyWith(given), TODAY);
      for (const [index, { date, start, report, isMissing, isAhead }] of days.entries()) {
        expect(start).toBe(from + index * 86_400_000);
        expect(startOf(date)).toBe(start);
        expect([report !== null, isMissing, isAhead].filter(Boolean)).toHaveLength(1);
        expect(report === null || report.date === date).toBe(true);
      }
      expect(endOf(days.at(-1)?.date ?? '')).toBe(to);
      expect(days.filter(({ report }) => report)).toHaveLength(given.length);
      expect(unknownBefore).toBe(given.length === 0 ? 0 : Math.min(...given.map(({ day }) => day)));
    }),
  );
});

test('what is still to come is not missing, and what is planned ahead is within the axis', () => {
  const { days, to } = timelineOf(
    storyWith([{ day: 3, isHard: false }], ['2026-04-20', '2026-09-01']),
    TODAY,
  );
  expect(days.filter(({ isMissing }) => isMissing).at(-1)?.date).toBe('2026-04-08');
  expect(startOf('2026-04-20')).toBeLessThan(to);
  // A visit in half a year does not press the days together.
  expect(to).toBeLessThan(startOf('2026-06-01'));
});

test('runs hold the days that were asked for and no others, and never touch', () => {
  fc.assert(
    fc.property(reports, (given) => {
      const { days } = timelineOf(storyWith(given), TODAY);
      const runs = runsOf(days, ({ report }) => report?.isHard === true);
      const within = days.filter(({ start }) => runs.some(({ from, to }) => from <= start && start < to));
      expect(within.map(({ date }) => date)).toEqual(
        days.filter(({ report }) => report?.isHard).map(({ date }) => date),
      );
      expect(runs.every(({ from, to, days: count }) => to - from === count * 86_400_000)).toBe(true);
      for (const [index, { from }] of runs.entries()) expect(from).not.toBe(runs[index - 1]?.to);
    }),
  );
});
