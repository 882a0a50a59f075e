import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  inSteps,
  LEAST_PART,
  roundedEstimate,
  roundedTo,
  shareTold,
  stepOf,
  stepOfPart,
  stepOfSum,
} from '../../../lib/salt/rounding.ts';

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

test('an interval that is told holds all of the one that was worked out, by less than a step more at each end', () => {
  fc.assert(
    fc.property(bounds, fc.double({ min: 0, max: 1, noNaN: true }), ({ low, high }, share) => {
      const { value, range, step } = roundedEstimate({ value: low + share * (high - low), low, high });
      if (range === null) return expect(stepOf({ low, high })).toBeUndefined();
      const crumb = 1e-9 * high;
      expect(range.low).toBeLessThanOrEqual(low + crumb);
      expect(range.high).toBeGreaterThanOrEqual(high - crumb);
      expect(low - range.low).toBeLessThan(step + crumb);
      expect(range.high - high).toBeLessThan(step + crumb);
      expect(value).toBeGreaterThanOrEqual(range.low);
      expect(value).toBeLessThanOrEqual(range.high);
    }),
  );
  // Half of it is 678, so to hundreds: 11,600 would not hold less, 11,700 would.
  expect(roundedEstimate({ value: 12_345, low: 11_667, high: 13_023 })).toEqual({
    ...{ value: 12_300, step: 100 },
    range: { low: 11_600, high: 13_100 },
  });
});

test('a part has two digits of its own, whatever the whole is', () => {
  fc.assert(
    fc.property(fc.double({ min: LEAST_PART, max: 1e9, noNaN: true }), (part) => {
      const step = stepOfPart(part);
      const told = roundedTo(part, step);
      expect(told / step).toBeLessThan(100 + 1e-9);
      expect(Math.abs(told - part)).toBeLessThanOrEqual(Math.max(0.05 * part, step / 2) + 1e-9);
    }),
  );
  const told = (part: number) => inSteps(part, stepOfPart(part));
  expect([8.7, 5.6, 60, 642, 12_345, 0].map(told)).toEqual(['8.7', '5.6', '60', '640', '12,000', '0']);
});

test('a share is the nearest whole percent, and nothing and all are told of nothing and all only', () => {
  fc.assert(
    fc.property(fc.double({ min: 1e-9, max: 1 - 1e-9, noNaN: true }), (share) => {
      const [, sign = '', digits = ''] = /^([<>]?)(\d+)\u00a0%$/.exec(shareTold(share)) ?? [];
      const percent = Number(digits);
      if (sign === '<') expect(100 * share).toBeLessThan(percent);
      else if (sign === '>') expect(100 * share).toBeGreaterThan(percent);
      else expect(Math.abs(percent - 100 * share)).toBeLessThanOrEqual(0.5 + 1e-9);
      expect(percent).toBeGreaterThan(0);
      expect(percent).toBeLessThan(100);
    }),
  );
  expect([0, 0.584, 1].map(shareTold)).toEqual(['0\u00a0%', '58\u00a0%', '100\u00a0%']);
});
