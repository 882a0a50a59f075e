import fc from 'fast-check';
import { expect, test } from 'vitest';
import { AsciiBytes } from '../../bin/replay/asciiBytes.ts';
import { writeForecast } from '../../bin/replay/forecastLine.ts';
import { type Forecast, forecastSchema } from '../../shared/forecasts.ts';
import { formatLocalDate } from '../../shared/time/localDate.ts';

const id = fc.stringMatching(/^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$/);
const date = fc.integer({ min: -700_000, max: 2_900_000 }).map(formatLocalDate);
const dates = fc.record({ p10: fc.option(date), p50: fc.option(date), p90: fc.option(date) });
const gallons = fc.oneof(
  fc.integer({ min: -3_000_000, max: 3_000_000_000 }).map((hundredths) => hundredths / 100),
  fc.double({ min: -2_000, max: 20_000, noNaN: true }),
  fc.double(),
  fc.constantFrom(-0.001, -0, 0.005, 1.005, 1e21, Number.MAX_VALUE),
);
const forecasts = fc.record({
  unitId: id,
  asOf: date,
  nextDayUse: fc.record({ p10: gallons, p50: gallons, p90: gallons, mean: gallons }),
  remaining: gallons,
  reserve: gallons,
  nextRegeneration: dates,
  exhaustion: dates,
  overrunProbability: fc.oneof(fc.double({ min: 0, max: 1 }), fc.constantFrom(0, 1, 1e-9)),
});

function lineOf(...given: Forecast[]): string {
  const bytes = new AsciiBytes();
  for (const forecast of given) writeForecast(bytes, forecast);
  return Buffer.from(bytes.bytes).toString();
}

test('a line is what JSON.stringify makes of the rounded forecast, to the byte', () => {
  const hundredths = (value: number) => Math.round(value * 100) / 100;
  fc.assert(
    fc.property(forecasts, (forecast) => {
      const { p10, p50, p90, mean } = forecast.nextDayUse;
      const rounded = {
        ...forecast,
        nextDayUse: {
          p10: hundredths(p10),
          p50: hundredths(p50),
          p90: hundredths(p90),
          mean: hundredths(mean),
        },
        remaining: hundredths(forecast.remaining),
        reserve: hundredths(forecast.reserve),
        overrunProbability: Math.round(forecast.overrunProbability * 1e4) / 1e4,
      };
      expect(lineOf(forecast)).toBe(`${JSON.stringify(rounded)}\n`);
    }),
    { numRuns: 2_000 },
  );
});

test('a line has all that a forecast has', () => {
  const line = lineOf(fc.sample(forecasts, { numRuns: 1, seed: 1 })[0] ?? expect.fail());
  expect(Object.keys(JSON.parse(line))).toEqual(Object.keys(forecastSchema.shape));
});

test('lines follow each other, however many there are', () => {
  const some = fc.sample(forecasts, { numRuns: 700, seed: 2 });
  expect(lineOf(...some)).toBe(some.map((forecast) => lineOf(forecast)).join(''));
});
