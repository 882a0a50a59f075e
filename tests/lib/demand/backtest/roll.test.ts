import fc from 'fast-check';
import { expect, it } from 'vitest';
import { ownPast, sameWeekday, sevenDayMean } from '../../../../lib/demand/backtest/baselines.ts';
import type { Family } from '../../../../lib/demand/backtest/family.ts';
import { ours } from '../../../../lib/demand/backtest/ours.ts';
import { type Forecast, roll } from '../../../../lib/demand/backtest/roll.ts';
import { scoreHome } from '../../../../lib/demand/backtest/scoreHome.ts';
import { summarise } from '../../../../lib/demand/backtest/summary.ts';
import type { UsedDay } from '../../../../lib/demand/backtest/usedDay.ts';
import { Chance } from '../../../../lib/simulation/chance.ts';

const OPTIONS = { warmUpDays: 20, horizons: [1, 3, 7] };
/** 2025-01-01. */
const FIRST_DATE = 20_089;

/** A record with gaps: whole gallons, undefined where a day was not reported. */
const gappy = fc
  .array(fc.option(fc.integer({ min: 0, max: 400 }), { nil: undefined, freq: 6 }), {
    minLength: 45,
    maxLength: 80,
  })
  .map((days) =>
    days.flatMap((gallons, index) => (gallons === undefined ? [] : [{ date: FIRST_DATE + index, gallons }])),
  )
  .filter((record) => record.length > OPTIONS.warmUpDays);

/** Knows what is to come. */
function oracle(record: readonly UsedDay[]): Family {
  const used = new Map(record.map(({ date, gallons }) => [date, gallons]));
  return {
    name: 'oracle',
    begin: () => {
      let next = 0;
      return {
        observe: (date) => {
          next = date + 1;
        },
        skip: (date) => {
          next = date + 1;
        },
        quantiles: (days, probabilities) => {
          let sum = 0;
          for (let date = next; date < next + days; date++) sum += used.get(date) ?? Number.NaN;
          return probabilities.map(() => sum);
        },
      };
    },
  };
}

function rolled(family: Family, record: readonly UsedDay[]): Forecast[] {
  const forecasts: Forecast[] = [];
  roll(family, record, OPTIONS, (forecast) => forecasts.push(forecast));
  return forecasts;
}

it('faces every family with the same sums of reported days, of which a perfect one loses nothing', () => {
  fc.assert(
    fc.property(gappy, (record) => {
      const perfect = rolled(oracle(record), record);
      // What came is what the record says, by another count, and no day of a sum is missing from it.
      for (const { date, days, gallons, quantiles } of perfect) {
        const own = record.filter((day) => day.date >= date && day.date < date + days);
        expect(own).toHaveLength(days);
        expect(gallons).toBe(own.reduce((sum, day) => sum + day.gallons, 0));
        expect(quantiles[9]).toBe(gallons);
      }
      const points = perfect.map(({ date, days }) => [date, days]);
      expect(points.filter(([, days]) => days === 1)).toHaveLength(record.length - OPTIONS.warmUpDays);
      for (const family of [ours, sevenDayMean, sameWeekday, ownPast]) {
        expect(rolled(family, record).map(({ date, days }) => [date, days])).toEqual(points);
      }
      for (const score of scoreHome(oracle(record), 'home', record, OPTIONS)) {
        if (score.loss === null) expect(score.meanGallons).toBe(0);
        else expect(score).toMatchObject({ loss: 0, crps: 0, intervalScore: 0 });
        expect(score.mase ?? 0).toBe(0);
        expect(score.coverage).toEqual({ 50: 1, 80: 1, 90: 1 });
        expect(score.bins.reduce((sum, each) => sum + each)).toBeCloseTo(1, 9);
      }
    }),
  );
});

it('forecasts from the days before alone, and gives quantiles that never fall or lie below nothing', () => {
  fc.assert(
    fc.property(gappy, fc.integer({ min: 21, max: 40 }), (record, kept) => {
      const cut = record.slice(0, kept);
      const last = cut.at(-1)?.date ?? 0;
      for (const family of [ours, sevenDayMean, sameWeekday, ownPast]) {
        const all = rolled(family, record);
        const early = all.filter(({ date, days }) => date + days - 1 <= last);
        expect(rolled(family, cut)).toEqual(early);
        for (const { quantiles } of all) {
          expect(quantiles.every((each, index) => each >= (quantiles[index - 1] ?? 0))).toBe(true);
        }
      }
    }),
    { numRuns: 40 },
  );
});

it('takes a missing day for missing: never for a day without use', () => {
  // Ever the same use: whoever took a gap for zeros would lower its forecast, and have errors to learn from.
  fc.assert(
    fc.property(fc.uniqueArray(fc.integer({ min: 0, max: 79 }), { maxLength: 30 }), (gaps) => {
      const record = Array.from({ length: 80 }, (_, day) => ({
        date: FIRST_DATE + day,
        gallons: 150,
      })).filter((_, day) => !gaps.includes(day));
      for (const family of [sevenDayMean, sameWeekday, ownPast]) {
        for (const { days, quantiles } of rolled(family, record)) {
          const furthest = Math.max(...quantiles.map((each) => Math.abs(each - 150 * days)));
          expect(furthest).toBeLessThan(1e-9);
        }
      }
      // The model learns that days are missing by growing less sure, about the same use.
      for (const { days, quantiles } of rolled(ours, record)) {
        const median = (quantiles[9] ?? 0) / days;
        expect(median).toBeGreaterThan(135);
        expect(median).toBeLessThan(165);
      }
    }),
    { numRuns: 40 },
  );
});

it('counts coverage as it is: on days that are alike and independent, 80 % intervals of the own past hold 80 %', () => {
  fc.assert(
    fc.property(fc.nat(), (seed) => {
      const homes = 12;
      const scores = Array.from({ length: homes }, (_, home) => {
        const chance = new Chance(seed, home);
        const record = Array.from({ length: 300 }, (_, day) => ({
          date: FIRST_DATE + day,
          gallons: chance.gamma(160, 0.5),
        }));
        return scoreHome(ownPast, String(home), record, { warmUpDays: 100, horizons: [1] });
      }).flat();
      const [score] = summarise(scores, ownPast.name);
      expect(score).toMatchObject({ homes, forecasts: homes * 200, below: null, homesBelow: null });
      // 2,400 days: a standard deviation is 0.008 of chance and as much of the quantiles' own; five of both together.
      expect(Math.abs((score?.coverage[80] ?? 0) - 0.8)).toBeLessThan(0.06);
      expect(Math.abs((score?.coverage[50] ?? 0) - 0.5)).toBeLessThan(0.07);
      for (const share of score?.bins ?? []) expect(Math.abs(share - 0.05)).toBeLessThan(0.035);
    }),
    { numRuns: 15 },
  );
});
