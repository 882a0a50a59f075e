import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { passDay, soundBelief, weighDay } from '../../../../lib/unit/memory/shareBelief.ts';
import { rulesSchema } from '../../../../lib/watch/rules.ts';
import { plainPassDay, plainWeighDay } from '../../../support/plain/shareBelief.ts';

const usual = rulesSchema.parse({}).fold.meterShare;
const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const share = between(0, 1);

const belief = fc
  .array(between(0, 1), { minLength: soundBelief().length, maxLength: soundBelief().length })
  .filter((weights) => weights.some((weight) => weight > 0.01))
  .map((weights) => {
    const all = weights.reduce((sum, weight) => sum + weight, 0);
    return weights.map((weight) => weight / all);
  });

const day = fc.record({
  use: between(-2, 2),
  useSpread: between(0.1, 1),
  peak: between(-2, 2),
  peakSpread: between(0.1, 0.5),
  hours: fc.option(between(-10, 10)),
  hoursSpread: between(1, 5),
  peakSlope: between(-0.5, 0.6),
  hoursSlope: between(0, 5),
});

const rules = fc
  .record({
    oddPeaks: between(0.01, 0.5),
    oddUse: between(0.01, 0.5),
    oddHours: between(0.01, 0.5),
    peakWeight: fc.oneof(fc.constant(1), share),
    useWeight: share,
    hoursWeight: share,
    easesADay: between(0, 0.2),
    deepensADay: between(0, 0.2),
    clearsADay: between(0, 0.1),
    useBackADay: between(0, 0.1),
  })
  .map((over) => ({ ...usual, ...over }));

describe('the belief in what a meter registers', () => {
  it('passes a day as its plain recursion does', () => {
    fc.assert(
      fc.property(belief, rules, (before, given) => {
        const passed = [...before];
        passDay(passed, given);
        const plain = plainPassDay(before, given);
        for (const [state, mass] of passed.entries())
          expect(mass).toBeCloseTo(plain[state] ?? Number.NaN, 12);
        expect(passed.reduce((sum, mass) => sum + mass, 0)).toBeCloseTo(1, 10);
      }),
    );
  });

  it('weighs a day as its plain likelihood does', () => {
    fc.assert(
      fc.property(belief, day, rules, (before, deviations, given) => {
        const weighed = [...before];
        weighDay(weighed, deviations, given);
        const plain = plainWeighDay(before, deviations, given);
        // Both are rounded to a millionth, and may fall on either side of a half of one.
        for (const [state, mass] of weighed.entries()) {
          expect(Math.abs(mass - (plain[state] ?? Number.NaN))).toBeLessThan(1.5e-6);
        }
      }),
    );
  });
});
