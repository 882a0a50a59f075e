import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type AbsenceRecord,
  newAbsenceRecord,
  runsAsLong,
  wetDay,
  zeroDay,
} from '../../../lib/demand/absence.ts';
import { absencesPerDay } from '../../../lib/demand/awayHabit.ts';
import { parseLocalDate } from '../../../shared/time/localDate.ts';

const HOME = { isTrickle: false };

/** A home of so many days with runs of a length, one every so many days. */
function homeOf(days: number, { every, length }: { every: number; length: number }): AbsenceRecord {
  const record = newAbsenceRecord();
  for (let day = 0; day < days; day++) {
    if (day % every >= every - length) zeroDay(record, day);
    else wetDay(record, HOME, 1);
  }
  return record;
}

describe('how often a home is away', () => {
  it('is, day by day and over all homes of the DAIAD trial, about as often as they were then', () => {
    // Homes of 90 days and more, the empty ones too: see fixtures/daiad-alicante/README.md.
    const homes = new Map<string, [number, boolean][]>();
    const [, ...rows] = readFileSync('fixtures/daiad-alicante/daily.csv', 'utf8').trim().split('\n');
    for (const row of rows) {
      const [meter = '', date = '', litres] = row.split(',');
      const days = homes.get(meter) ?? [];
      homes.set(meter, days);
      days.push([parseLocalDate(date) ?? 0, Number(litres) === 0]);
    }
    const lengths = [3, 5, 7, 10, 14];
    const expected = lengths.map(() => 0);
    const happened = lengths.map(() => 0);
    for (const days of homes.values()) {
      if (days.length < 90) continue;
      const record = newAbsenceRecord();
      for (const [date, isZero] of days) {
        if (isZero) {
          zeroDay(record, date);
          continue;
        }
        wetDay(record, HOME, 1);
        lengths.forEach((length, index) => {
          expected[index] = (expected[index] ?? 0) + absencesPerDay(record, length);
        });
      }
      lengths.forEach((length, index) => {
        happened[index] = (happened[index] ?? 0) + runsAsLong(record, length);
      });
    }
    expect(happened[0]).toBeGreaterThan(100);
    lengths.forEach((_, index) => {
      // A third more or less: they were 117 runs of three days or more, and 15 of fourteen.
      const ratio = (happened[index] ?? 0) / (expected[index] ?? 0);
      expect(ratio).toBeGreaterThan(0.66);
      expect(ratio).toBeLessThan(1.5);
    });
  });

  it('falls with the length, whatever a home has done', () => {
    const run = fc.record({ home: fc.integer({ min: 1, max: 90 }), zeros: fc.integer({ min: 0, max: 80 }) });
    fc.assert(
      fc.property(fc.array(run, { maxLength: 25 }), fc.integer({ min: 1, max: 200 }), (runs, days) => {
        const record = newAbsenceRecord();
        let date = 0;
        for (const { home, zeros } of runs) {
          for (let day = 0; day < home; day++) wetDay(record, HOME, 1);
          for (let day = 0; day < zeros; day++) zeroDay(record, date + home + day);
          date += home + zeros;
        }
        const rate = absencesPerDay(record, days);
        expect(absencesPerDay(record, days + 1)).toBeLessThan(rate);
        expect(rate).toBeLessThan(1.5);
        expect(rate).toBeGreaterThan(0);
      }),
    );
  });

  it('is as rare or frequent as the home makes it', () => {
    const unknown = newAbsenceRecord();
    const never = homeOf(365, { every: 1e9, length: 0 });
    const often = homeOf(365, { every: 20, length: 5 });
    for (const days of [1, 2, 3, 5, 7, 14]) {
      expect(absencesPerDay(never, days)).toBeLessThan(absencesPerDay(unknown, days));
    }
    // 18 runs of 5 days in 275 days at home.
    expect(absencesPerDay(often, 5)).toBeGreaterThan((0.5 * 18) / 275);
    expect(absencesPerDay(often, 5)).toBeLessThan((1.2 * 18) / 275);
  });

  it('tells a house that stands empty within months from one that is lived in', () => {
    const lived = homeOf(100, { every: 50, length: 5 });
    const empty = homeOf(100, { every: 12, length: 10 });
    expect(absencesPerDay(empty, 21)).toBeGreaterThan(30 * absencesPerDay(lived, 21));
  });

  it('is rarer where the meter trickles on when nobody is there, and goes on where somebody looked in', () => {
    const dry = homeOf(200, { every: 1e9, length: 0 });
    const trickling = homeOf(200, { every: 1e9, length: 0 });
    for (let day = 0; day < 4; day++) wetDay(trickling, { isTrickle: day < 3 }, 1);
    expect(absencesPerDay(trickling, 3)).toBeLessThan(0.9 * absencesPerDay(dry, 3));
    const between = (daysAtHome: number) => {
      const record = homeOf(200, { every: 1e9, length: 0 });
      for (let day = 200; day < 206; day++) zeroDay(record, day);
      for (let day = 0; day < daysAtHome; day++) wetDay(record, HOME, 1);
      zeroDay(record, 206 + daysAtHome);
      return absencesPerDay(record, 3);
    };
    expect(between(2)).toBeGreaterThan(3 * between(10));
  });
});
