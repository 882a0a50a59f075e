import fc from 'fast-check';
import { expect, test } from 'vitest';
import { inSteps, percents, roundedTo, stepOf, stepOfSum } from '../../../../lib/salt/report/rounding.ts';

const amount = fc.double({ min: 0.01, max: 1e9, noNaN: true });
const bounds = fc
  .tuple(fc.double({ min: 0, max: 1e9, noNaN: true }), fc.double({ min: 1e-3, max: 1e8, noNaN: true }))
  .map(([low, width]) => ({ low, high: low + width }));

test('a figure has no digit finer than half of what its interval leaves open, and no more than four', () => {
  fc.assert(
    fc.property(bounds, ({ low, high }) => {
      const step = stepOf({ low, high });
      if (step === undefined) return expect(high - low).toBe(0);
      expect(Math.log10(step)).toBeCloseTo(Math.round(Math.log10(step)), 9);
      // Four digits are no more than that: at least 1,000 steps, or the interval has the say.
      const isByInterval = 2 * step <= ((high - low) / 2) * (1 + 1e-9);
      expect(isByInterval || 1_000 * step <= high * (1 + 1e-9)).toBe(true);
      expect(10_000 * step * (1 + 1e-9)).toBeGreaterThan(high);
      for (const value of [low, (low + high) / 2, high])
        expect(Math.abs(roundedTo(value, step) - value)).toBeLessThanOrEqual(step / 2 + 1e-9 * value);
    }),
  );
});

test('rounding keeps the order of bounds and value', () => {
  fc.assert(
    fc.property(bounds, fc.double({ min: 0, max: 1, noNaN: true }), ({ low, high }, share) => {
      const step = stepOf({ low, high }) ?? 1;
      const value = roundedTo(low + share * (high - low), step);
      expect(value).toBeGreaterThanOrEqual(roundedTo(low, step));
      expect(value).toBeLessThanOrEqual(roundedTo(high, step));
    }),
  );
});

test('what is told is what was rounded, to the letter', () => {
  fc.assert(
    fc.property(amount, (value) => {
      const step = stepOfSum(value);
      expect(Number(inSteps(value, step).replaceAll(',', ''))).toBeCloseTo(roundedTo(value, step), 9);
      expect(Math.abs(roundedTo(value, step) / value - 1)).toBeLessThanOrEqual(0.005 + 1e-9);
    }),
  );
});

test('examples by hand', () => {
  // Half of the interval is 678: two to twenty hundreds.
  const told = (value: number, low: number, high: number) =>
    inSteps(value, stepOf({ low, high }) ?? Number.NaN);
  expect(told(12_345, 11_667, 13_023)).toBe('12,300');
  expect(told(12_345, 12_195, 12_495)).toBe('12,350');
  expect(told(0.964, 0.941, 0.987)).toBe('0.96');
  expect(told(1_242_800, 1_242_400, 1_243_300)).toBe('1,243,000');
  expect(inSteps(-3.4, 1)).toBe('−3');
  expect(inSteps(-0.2, 1)).toBe('0');
  expect(inSteps(0, stepOfSum(0))).toBe('0');
  expect(stepOf({ low: 5, high: 5 })).toBeUndefined();
});

test('percents make up 100, and none is off by one or more', () => {
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: 0, max: 1e6, noNaN: true }), { minLength: 1, maxLength: 6 }),
      (parts) => {
        const sum = parts.reduce((total, part) => total + part, 0);
        const told = percents(parts);
        expect(told.reduce((total, part) => total + part, 0)).toBe(sum > 0 ? 100 : 0);
        told.forEach((percent, index) => {
          if (sum > 0) expect(Math.abs(percent - (100 * (parts[index] ?? 0)) / sum)).toBeLessThan(1 + 1e-9);
        });
      },
    ),
  );
});
