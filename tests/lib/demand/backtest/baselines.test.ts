import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ownPast, sameWeekday, sevenDayMean } from '../../../../lib/demand/backtest/baselines.ts';
import type { Family } from '../../../../lib/demand/backtest/family.ts';
import { live } from '../../../../lib/demand/backtest/roll.ts';
import type { UsedDay } from '../../../../lib/demand/backtest/usedDay.ts';

/** 2025-01-06, a Monday. */
const MONDAY = 20_094;
const WEEK = [100, 100, 100, 100, 100, 170, 170];

function days(gallons: readonly (number | undefined)[]): UsedDay[] {
  return gallons.flatMap((each, day) => (each === undefined ? [] : [{ date: MONDAY + day, gallons: each }]));
}

function lived(family: Family, record: readonly UsedDay[]) {
  const forecaster = family.begin();
  live(record, forecaster, () => {});
  return forecaster;
}

describe('the seven-day mean', () => {
  it('is that of a worked example, with the errors that it made', () => {
    // After a week of mean 120 come 130 (10 above), 141 (mean (840 - 100 + 130) / 7 = 124 2/7, so 16 5/7 above) and
    // 62 (mean (870 - 100 + 141) / 7 = 130 1/7, so 68 1/7 below). The mean is then (911 - 100 + 62) / 7 = 124 5/7.
    const forecaster = lived(sevenDayMean, days([...WEEK, 130, 141, 62]));
    // Of three errors the first stands for up to a third, the second for up to two, the third beyond.
    const [p10, p50, p90] = forecaster.quantiles(1, [0.1, 0.5, 0.9]);
    expect(p10).toBeCloseTo(124 + 5 / 7 - (68 + 1 / 7), 9);
    expect(p50).toBeCloseTo(124 + 5 / 7 + 10, 9);
    expect(p90).toBeCloseTo(124 + 5 / 7 + 16 + 5 / 7, 9);
    // Two days together: 271 against 240, 203 against 248 4/7, and by now 249 3/7 is expected.
    const [low, high] = forecaster.quantiles(2, [0.4, 0.6]);
    expect(low).toBeCloseTo(249 + 3 / 7 - (45 + 4 / 7), 9);
    expect(high).toBeCloseTo(249 + 3 / 7 + 31, 9);
  });

  it('has the errors that it would have had, whenever it is first asked', () => {
    const use = fc.option(fc.integer({ min: 0, max: 300 }), { nil: undefined, freq: 8 });
    fc.assert(
      fc.property(
        fc.array(use, { minLength: 30, maxLength: 50 }),
        fc.integer({ min: 1, max: 6 }),
        (gallons, ahead) => {
          const record = days(gallons);
          for (const family of [sevenDayMean, sameWeekday, ownPast]) {
            const forecaster = family.begin();
            live(record, forecaster, () => forecaster.quantiles(ahead, [0.5]));
            const asked = forecaster.quantiles(ahead, [0.1, 0.5, 0.9]);
            expect(asked).toEqual(lived(family, record).quantiles(ahead, [0.1, 0.5, 0.9]));
          }
        },
      ),
    );
  });
});

it('the same weekday of the last week is without error where every week is alike, gaps or not', () => {
  const weeks = Array.from({ length: 5 }, () => WEEK).flat();
  const record = days([...weeks, 100, undefined, undefined, 100]);
  // Friday to Monday come next.
  expect(lived(sameWeekday, record).quantiles(4, [0.1, 0.9])).toEqual([540, 540]);
  expect(lived(sevenDayMean, record).quantiles(4, [0.1, 0.9])).not.toEqual([540, 540]);
});

it('the own past is its quantiles, each that which a share of the past lies before', () => {
  const record = days(Array.from({ length: 10 }, (_, index) => 10 * ((index * 7) % 10)));
  expect(lived(ownPast, record).quantiles(1, [0.05, 0.1, 0.5, 0.95])).toEqual([0, 10, 50, 90]);
});
