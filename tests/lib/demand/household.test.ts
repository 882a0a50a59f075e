import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectedUse, type Household, newHousehold, observe, skip } from '../../../lib/demand/household.ts';
import { nextDayUse } from '../../../lib/demand/predictive.ts';
import { useAhead } from '../../../lib/demand/useAhead.ts';
import { weekdayOf } from '../../../shared/time/localDate.ts';

const START = 20_089;
/** Days of use; null is a day without a report. */
const use = fc.array(
  fc.oneof(
    { weight: 8, arbitrary: fc.integer({ min: 0, max: 600 }) },
    { weight: 1, arbitrary: fc.constantFrom(0, 0.001, 1e6) },
    { weight: 1, arbitrary: fc.constant(null) },
  ),
  { minLength: 1, maxLength: 120 },
);

function fold(days: readonly (number | null)[], household = newHousehold(), start = START): Household {
  return days.reduce<Household>(
    (state, gallons, day) =>
      gallons === null ? skip(state, start + day) : observe(state, start + day, gallons),
    household,
  );
}

describe('a household', () => {
  it('goes on from its JSON as from itself, and leaves what it was as it was', () => {
    fc.assert(
      fc.property(use, use, (before, after) => {
        const household = fold(before);
        const copy = structuredClone(household);
        const thawed: Household = JSON.parse(JSON.stringify(household));
        const next = START + before.length;
        expect(fold(after, thawed, next)).toEqual(fold(after, household, next));
        expect(household).toEqual(copy);
      }),
    );
  });

  it('has its fields in one order, whatever its days were', () => {
    fc.assert(
      fc.property(use, (days) => {
        // It is kept as JSON, and objects of one shape are read faster.
        expect(Object.keys(fold(days))).toEqual(Object.keys(newHousehold()));
      }),
    );
  });

  it('always expects a use that can be, its quantiles in order', () => {
    fc.assert(
      fc.property(use, (days) => {
        const last = START + days.length - 1;
        const { p10, p50, p90, mean } = nextDayUse(fold(days), last);
        expect(p10).toBeGreaterThanOrEqual(0);
        expect(p50).toBeGreaterThanOrEqual(p10);
        expect(p90).toBeGreaterThanOrEqual(p50);
        for (const value of [p90, mean, expectedUse(fold(days), last + 1)]) {
          expect(Number.isFinite(value)).toBe(true);
          expect(value).toBeGreaterThanOrEqual(0);
        }
      }),
      // An odd day among few once made them cross.
      { examples: [[[28, 15, 10, 1_000_000, 11, 10, 0, 8, 5, 7, null]]] },
    );
  });

  it('leans on its fleet at first, and soon goes by its own days', () => {
    const prior = newHousehold();
    const first = observe(prior, START, 300);
    expect(first.level).toBeGreaterThan(prior.level);
    expect(first.level).toBeLessThan(300);
    expect(Math.abs(fold(new Array(14).fill(300)).level - 300)).toBeLessThan(15);
  });

  it('takes a missing day for missing, not for one without use', () => {
    const settled = fold(new Array(60).fill(200));
    const missed = fold(new Array(10).fill(null), settled, START + 60);
    const empty = fold(new Array(10).fill(0), settled, START + 60);
    expect(expectedUse(missed, START + 70)).toBeGreaterThan(170);
    expect(expectedUse(empty, START + 70)).toBeLessThan(150);
    // What was learnt of the home is kept through an absence.
    expect(empty.level).toBeCloseTo(settled.level, 0);
  });

  it('follows a level that has shifted within two weeks, and one odd day hardly', () => {
    const wobble = (mean: number, days: number) =>
      Array.from({ length: days }, (_, day) => mean * (1 + 0.3 * Math.sin(day * 2.1)));
    const settled = fold(wobble(200, 90));
    const shifted = fold(wobble(400, 14), settled, START + 90);
    expect(shifted.level).toBeGreaterThan(350);
    const odd = observe(settled, START + 90, 2000);
    expect(odd.level / settled.level).toBeLessThan(1.15);
  });

  it('lives on a holiday as on a Sunday, and learns from it as from one', () => {
    const sunday = START + ((7 - weekdayOf(START)) % 7);
    const holiday = sunday + 73;
    const week = (day: number) => (weekdayOf(day) === 0 ? 320 : 160);
    const lived = (household: Household) =>
      Array.from({ length: 72 }, (_, day) => sunday + day).reduce(
        (state, day) => observe(state, day, week(day)),
        household,
      );
    const plain = lived(newHousehold());
    const told = lived(newHousehold(undefined, [holiday]));
    expect(nextDayUse(told, holiday - 1).p50).toBeGreaterThan(1.5 * nextDayUse(plain, holiday - 1).p50);
    expect(useAhead(told, holiday - 2).mean(2)).toBeGreaterThan(useAhead(plain, holiday - 2).mean(2) + 100);
    const after = observe(told, holiday, 320);
    // What was as on a Sunday says nothing of its weekday.
    expect(after.weekday[weekdayOf(holiday)]).toBeCloseTo(told.weekday[weekdayOf(holiday)] ?? 0, 2);
  });
});
