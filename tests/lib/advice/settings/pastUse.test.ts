import fc from 'fast-check';
import { expect, it } from 'vitest';
import { pastUse } from '../../../../lib/advice/settings/pastUse.ts';
import type { FlowDay } from '../../../../shared/facts.ts';

const LAST = 20_800;

function flowDay(date: number, gallons: number): FlowDay {
  const at = date * 86_400_000;
  return { kind: 'flow-day', id: `d${date}`, time: at, known: at, at, date, gallons };
}

const year = Array.from({ length: 400 }, (_, index) => flowDay(LAST - index, 100 + ((index * 37) % 90)));

it('costs no more where one event lies far back than where it lies a few years back, and says the same', () => {
  const near = pastUse([flowDay(LAST - 3_000, 5_000), ...year]);
  // Passed day by day this would take an hour: one forged date must not stop all who ask.
  const far = pastUse([flowDay(LAST - 3_000_000_000, 5_000), ...year]);
  expect(far).toEqual(near);
  expect(far?.gallons).toHaveLength(365);
  expect(far?.missingDays).toBe(0);
});

it('fills a year of which only its ends are reported', () => {
  const filled = pastUse([flowDay(LAST - 2_000, 150), flowDay(LAST - 364, 150), flowDay(LAST, 150)]);
  expect(filled?.missingDays).toBe(363);
  expect(filled?.gallons.every((gallons) => gallons > 0)).toBe(true);
});

it('forecasts the reserve of a day by the days before it alone', () => {
  const day = fc.oneof(fc.double({ min: 0, max: 500, noNaN: true }), fc.constant(null));
  fc.assert(
    fc.property(
      fc.array(day, { minLength: 3, maxLength: 120 }),
      fc.array(day, { minLength: 3, maxLength: 120 }),
      fc.nat(),
      (gallons, otherwise, at) => {
        const until = at % gallons.length;
        const daysOf = (all: readonly (number | null)[]) =>
          all.flatMap((drawn, index) => (drawn === null ? [] : [flowDay(LAST + index, drawn)]));
        // What comes of the day itself and after it is another household's.
        const one = pastUse([flowDay(LAST - 1, 150), ...daysOf(gallons)]);
        const other = pastUse([
          flowDay(LAST - 1, 150),
          ...daysOf([...gallons.slice(0, until), ...otherwise, 100]),
        ]);
        const known = 1 + Math.min(until, (one?.gallons.length ?? 1) - 1);
        expect(one?.forecastReserve.slice(0, known)).toEqual(other?.forecastReserve.slice(0, known));
        expect(one?.meanReserve.slice(0, known)).toEqual(other?.meanReserve.slice(0, known));
      },
    ),
    { numRuns: 60 },
  );
});
