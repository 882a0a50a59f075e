import { expect, test } from 'vitest';
import { regionAhead } from '../../../support/whatIfAhead.ts';

/** Regions enough that an interval which holds far too seldom shows, and few enough to wait for. */
const REGIONS = 6;
const UNITS = 6;

test('asked after its first year, a simulated region lives its second one within the intervals, mostly', () => {
  const held = { today: 0, difference: 0 };
  let [sum, livedSum] = [0, 0];
  for (let seed = 1; seed <= REGIONS; seed++) {
    const { answer, lived } = regionAhead(seed, UNITS, { doseLbPerCubicFoot: 5 });
    const { today, difference } = answer.estimates?.saltLb ?? {};
    if (!today || !difference) throw new Error('a fleet has units whose past tells');
    const truth = lived.saltLb.imagined - lived.saltLb.today;
    if (lived.saltLb.today >= today.low && lived.saltLb.today <= today.high) held.today += 1;
    if (truth >= difference.low && truth <= difference.high) held.difference += 1;
    // The difference is surer than what it is the difference of.
    expect(difference.high - difference.low).toBeLessThan(today.high - today.low);
    sum += difference.value;
    livedSum += truth;
  }
  // Of 6 at 80 % fewer than 3 are held once in 60 times; these fleets are always the same.
  expect(held.today).toBeGreaterThanOrEqual(3);
  expect(held.difference).toBeGreaterThanOrEqual(3);
  expect(sum / livedSum).toBeGreaterThan(0.75);
  expect(sum / livedSum).toBeLessThan(1.25);
});
