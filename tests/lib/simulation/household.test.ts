import { expect, test } from 'vitest';
import { Chance } from '../../../lib/simulation/chance.ts';
import { inventHousehold } from '../../../lib/simulation/household.ts';
import { parseLocalDate } from '../../../shared/time/localDate.ts';

const HOMES = 4000;
const START = parseLocalDate('2025-01-01') ?? 0;
const homes = Array.from({ length: HOMES }, (_, home) => inventHousehold(START, 365, new Chance(1, home)));
const lengths = homes.map(({ absences }) => absences.map(({ first, last }) => last - first + 1));
const aYear = (days: number) => lengths.flat().filter((length) => length >= days).length / HOMES;

test.each([
  // A home and year of fixtures/daiad-alicante without the two that stand empty: 1.47, 0.25, 0.08; of that
  // trial as a whole 1.6, 0.3, 0.06. Bands wide enough for both.
  { days: 3, low: 1.35, high: 1.75 },
  { days: 7, low: 0.22, high: 0.36 },
  { days: 14, low: 0.04, high: 0.09 },
])('absences of $days days or more come as often as in real homes', ({ days, low, high }) => {
  expect(aYear(days)).toBeGreaterThan(low);
  expect(aYear(days)).toBeLessThan(high);
});

test('absences are uneven: about half of the homes have no longer one, and a tenth have most', () => {
  const counts = lengths.map((each) => each.filter((length) => length >= 3).length).sort((a, b) => b - a);
  const sum = (part: number[]) => part.reduce((total, each) => total + each, 0);
  // 22 of 43 homes of fixtures/daiad-alicante have none.
  expect(counts.filter((count) => count === 0).length / HOMES).toBeCloseTo(0.5, 1);
  expect(sum(counts.slice(0, HOMES / 10)) / sum(counts)).toBeGreaterThan(0.4);
});

test('homes use as much water as homes do, and differ as much', () => {
  const means = homes.map(({ gallons }) => gallons.reduce((sum, each) => sum + each, 0) / gallons.length);
  const mean = means.reduce((sum, each) => sum + each, 0) / HOMES;
  // Water Research Foundation, Residential End Uses of Water v2 (DeOreo 2016): 138 gal a home and day, as a mean.
  expect(mean).toBeGreaterThan(128);
  expect(mean).toBeLessThan(150);
  const logs = means.map(Math.log);
  const middle = logs.reduce((sum, each) => sum + each, 0) / HOMES;
  const gsd = Math.exp(Math.sqrt(logs.reduce((sum, each) => sum + (each - middle) ** 2, 0) / HOMES));
  // NRC 1999, p. 56: a geometric standard deviation of 1.8 per person; the size of homes comes on top.
  expect(gsd).toBeGreaterThan(1.8);
  expect(gsd).toBeLessThan(2.6);
});
