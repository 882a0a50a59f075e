import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { absencesPerDay, newAbsenceRecord, wetDay, zeroDay } from '../../../lib/demand/absence.ts';
import { parseLocalDate } from '../../../shared/time/localDate.ts';

/** Homes of the DAIAD trial that stand empty, or have too few days to tell: see fixtures/daiad-alicante/README.md. */
const LEFT_OUT = new Set(['D009', 'D015', 'D085', 'D089', 'D091']);

describe('the absences of a household', () => {
  it('are, for a home of which nothing is known, as frequent as in the homes of the DAIAD trial', () => {
    const homes = new Map<string, ReturnType<typeof newAbsenceRecord>>();
    const [, ...rows] = readFileSync('fixtures/daiad-alicante/daily.csv', 'utf8').trim().split('\n');
    for (const row of rows) {
      const [meter = '', date = '', litres] = row.split(',');
      if (LEFT_OUT.has(meter)) continue;
      const record = homes.get(meter) ?? newAbsenceRecord();
      homes.set(meter, record);
      if (Number(litres) === 0) zeroDay(record, parseLocalDate(date) ?? 0);
      else wetDay(record, 1);
    }
    const records = [...homes.values()];
    const daysAtHome = records.reduce((sum, { daysAtHome }) => sum + daysAtHome, 0);
    const unknown = newAbsenceRecord();
    [1, 2, 3, 5, 7, 10, 14].forEach((days, index) => {
      const runs = records.reduce((sum, { reached }) => sum + (reached[index] ?? 0), 0);
      const expected = absencesPerDay(unknown, days) * daysAtHome;
      // Runs of one home come together, so their number spreads wider than a Poisson's: twice its deviation is allowed.
      expect(Math.abs(runs - expected)).toBeLessThan(4 * Math.sqrt(expected));
    });
  });

  it('become rarer the longer they are, and as rare or frequent as the home makes them', () => {
    const never = newAbsenceRecord();
    for (let day = 0; day < 365; day++) wetDay(never, 1);
    const often = newAbsenceRecord();
    for (let day = 0; day < 365; day++) {
      if (day % 20 < 5) zeroDay(often, day);
      else wetDay(often, 1);
    }
    const unknown = newAbsenceRecord();
    for (let days = 1; days < 120; days++) {
      for (const record of [never, unknown, often]) {
        expect(absencesPerDay(record, days + 1)).toBeLessThan(absencesPerDay(record, days));
      }
      expect(absencesPerDay(never, days)).toBeLessThan(absencesPerDay(unknown, days));
      expect(absencesPerDay(often, days)).toBeGreaterThan(absencesPerDay(unknown, days));
    }
    // 18 runs of 5 days in 275 days at home.
    expect(absencesPerDay(often, 5)).toBeCloseTo(18 / 275, 1);
  });

  it('of a stalled meter are none', () => {
    const record = newAbsenceRecord();
    for (let day = 0; day < 40; day++) zeroDay(record, day);
    wetDay(record, 0);
    expect(record.reached.every((count) => count === 0)).toBe(true);
    expect(record.run).toBeNull();
  });
});
