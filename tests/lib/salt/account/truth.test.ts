import { describe, expect, it } from 'vitest';
import { SaltAccounts } from '../../../../lib/salt/account/saltAccounts.ts';
import { parseFaultMix } from '../../../../lib/simulation/faultMix.ts';
import { type FleetOptions, planFleet } from '../../../../lib/simulation/plan.ts';
import { rulesSchema } from '../../../../lib/watch/rules.ts';
import { localDateOf } from '../../../../shared/time/localDate.ts';
import { type ComparedMonth, compared, livedSalt, untilOf } from '../../../support/saltTruth.ts';

const rules = rulesSchema.parse({});
const START = localDateOf(2025, 1, 1) ?? 0;
/** January to March. */
const DAYS = 90;
const REGIONS = 4;
const MONTHS = 3;

/** A company that lives through the first months of a year; each region's months, beside the truth. */
function company(options: Partial<FleetOptions>): ComparedMonth[] {
  const faults = parseFaultMix('demo');
  const plans = planFleet({ units: 70, days: DAYS, start: START, seed: 1, faults, ...options });
  const accounts = new SaltAccounts(Math.max(...plans.map(untilOf)), rules.salt);
  const units = plans.map((plan) => livedSalt(plan, rules.fold, 0.02));
  for (const { known } of units) accounts.add(known);
  return compared(
    accounts.accounts(),
    units.map(({ known, trueLb }) => ({ region: known.unit.region, trueLb })),
  );
}

/** How far an account is off in standard deviations as it tells them: half of an 80 % interval is 1.2816 of them. */
function deviationsOf({ account: { saltLb }, trueLb }: ComparedMonth): number {
  return (saltLb.value - trueLb) / ((saltLb.high - saltLb.value) / 1.2816);
}

function rootMeanSquare(values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, value) => sum + value ** 2, 0) / values.length);
}

/** Where the root mean square of so many independent standard normal values lies, 999 times in 1,000 on either side: Wilson-Hilferty. */
function rmsBounds(degrees: number): readonly [number, number] {
  const third = (z: number) => (1 - 2 / (9 * degrees) + z * Math.sqrt(2 / (9 * degrees))) ** 1.5;
  return [third(-3.09), third(3.09)];
}

const doses = { betweenFleets: 0.03, betweenUnits: 0.08, betweenRegenerations: 0.05 };
const halfSensed = [31, 32, 33, 34].map((seed) => company({ seed, levelSensors: 0.5, doses }));

describe('regional salt where half of the units have level sensors and doses are not as on record', () => {
  it('has intervals as wide as its errors are', () => {
    // A unit's dose deviates in all of its months alike: a region's three months count as one, at the least.
    const [least, most] = rmsBounds(halfSensed.length * REGIONS);
    const deviations = halfSensed.flat().map(deviationsOf);
    expect(deviations).toHaveLength(halfSensed.length * REGIONS * MONTHS);
    expect(rootMeanSquare(deviations)).toBeGreaterThan(least);
    expect(rootMeanSquare(deviations)).toBeLessThan(most);
  });

  it('is known so well as so few units allow', () => {
    for (const months of halfSensed) {
      for (const { account, trueLb } of months) {
        // A quarter of 2,000 units is to be within 3 % at the worst; fewer are so by the root of their ratio more.
        const most = 0.03 * Math.sqrt(2000 / REGIONS / account.units);
        expect(Math.abs(account.saltLb.value - trueLb) / trueLb, account.region).toBeLessThan(most);
      }
    }
  });
});

describe('regional salt without any level sensor', () => {
  it('is within 8 % and within the interval that the rules’ doubt makes, where doses are as on record', () => {
    const months = company({ seed: 35, levelSensors: 0, faults: {}, units: 100 });
    for (const month of months) {
      expect(month.account.unitsMeasured).toBe(0);
      expect(Math.abs(month.account.saltLb.value - month.trueLb) / month.trueLb).toBeLessThan(0.08);
      // Records are right in this fleet, which the rules do not know: they doubt the mean by 3 % and each unit by 10 %.
      expect(Math.abs(deviationsOf(month))).toBeLessThan(1);
    }
  });
});
