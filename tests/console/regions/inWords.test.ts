import fc from 'fast-check';
import { expect, test } from 'vitest';
import { changeWords, hasRange } from '../../../console/regions/whatIf/inWords.ts';

const likings = { units: 'us', locale: 'en-US', timeZone: 'UTC' } as const;
const words = (value: number, half: number, of = 1000) =>
  changeWords({ value, low: value - half, high: value + half }, of, 'lb', likings);

test('a change is no larger than it is, and no surer', () => {
  expect(words(-120, 20)).toBe('−120 (−12%)');
  expect(words(4, 1)).toBe('+4 (<1%)');
  expect(words(-4, 1)).toBe('−4 (<1%)');
  expect(words(-4, 5)).toBe('none that can be told');
  expect(words(0, 300)).toBe('none that can be told');
  expect(words(0, 0)).toBe('none');
  // Chloride under potassium chloride: the same but for crumbs.
  expect(words(1e-13, 2e-13)).toBe('none');
  expect(hasRange({ value: 0, low: -1e-13, high: 1e-13 }, 'lb', likings)).toBe(false);
});

test('a number is shown exactly where the interval leaves no doubt of its sign', () => {
  const number = fc.double({ min: -900, max: 900, noNaN: true });
  fc.assert(
    fc.property(number, fc.double({ min: 0.1, max: 900, noNaN: true }), (value, half) => {
      expect(/\d/.test(words(value, half))).toBe(Math.abs(value) > half);
    }),
  );
});
