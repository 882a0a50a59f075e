import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Estimate } from '../../../../lib/estimate/estimate.ts';
import type { SaltAccount } from '../../../../lib/salt/account/saltAccount.ts';
import { SaltAccounts } from '../../../../lib/salt/account/saltAccounts.ts';
import type { KnownMonths } from '../../../../lib/salt/knownMonths.ts';
import { rulesSchema } from '../../../../lib/watch/rules.ts';
import { anyCompany, anyMonth, endOfMonth, FIRST, knownUnit } from '../../../support/saltMonths.ts';

const { salt: rules } = rulesSchema.parse({});
const UNTIL = endOfMonth(3);

function accountsOf(company: readonly KnownMonths[], until = UNTIL): SaltAccount[] {
  const accounts = new SaltAccounts(until, rules);
  for (const known of company) accounts.add(known);
  return accounts.accounts();
}

function only(company: readonly KnownMonths[], until = endOfMonth(0)): SaltAccount {
  const [account, ...others] = accountsOf(company, until);
  if (!account || others.length > 0) throw new Error('one account was expected');
  return account;
}

/** All numbers in an account, however deep, with their names. */
function numbersOf(value: unknown, name = ''): [string, number][] {
  if (typeof value === 'number') return [[name, value]];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, each]) => numbersOf(each, `${name}.${key}`));
}

function estimatesOf(account: SaltAccount): [string, Estimate][] {
  const { saltLb, waterGallons, drawnShare, grainsPerLb, chlorideLb, sodiumLb } = account;
  const all = { saltLb, waterGallons, drawnShare, grainsPerLb, chlorideLb, sodiumLb };
  return Object.entries(all).flatMap(([name, each]): [string, Estimate][] => (each ? [[name, each]] : []));
}

describe('an account of a region', () => {
  it('is made of finite numbers, and each interval holds its value, whatever the months say', () => {
    fc.assert(
      fc.property(anyCompany, (company) => {
        for (const account of accountsOf(company)) {
          expect(numbersOf(account).filter(([, value]) => !Number.isFinite(value))).toEqual([]);
          // Only a measured sum that noise made negative is below nothing, and then it is said as it is.
          const holds = ({ value, low, high }: Estimate) =>
            low <= value && value <= high && low >= Math.min(0, value);
          expect(estimatesOf(account).filter(([, estimate]) => !holds(estimate))).toEqual([]);
          expect(account.measuredSaltLb + account.inferredSaltLb + account.imputedSaltLb).toBeCloseTo(
            account.saltLb.value,
            6,
          );
          for (const { judged, nsf44, california2002 } of [account.asSet, account.inUse]) {
            expect(judged).toBeLessThanOrEqual(account.units);
            expect(nsf44).toBeLessThanOrEqual(judged);
            // 4,000 grains per lb is more than 3,350, but says nothing of water.
            expect(california2002).toBeLessThanOrEqual(judged);
          }
        }
      }),
    );
  });

  it('does not hang on the order of the units', () => {
    fc.assert(
      fc.property(anyCompany, (company) => {
        const there = accountsOf(company).flatMap((account) => numbersOf(account));
        const back = accountsOf(company.toReversed()).flatMap((account) => numbersOf(account));
        expect(back.length).toBe(there.length);
        const isOther = ([name, value]: [string, number], index: number) => {
          const [otherName, other = Number.NaN] = back[index] ?? [];
          return name !== otherName || !(Math.abs(other - value) <= 1e-7 * (1 + Math.abs(value)));
        };
        expect(there.filter(isOther)).toEqual([]);
      }),
    );
  });

  it('loses nothing of a unit that moved: its regions together have what it would have had in one', () => {
    fc.assert(
      fc.property(anyMonth, anyMonth, (before, after) => {
        const daysApart = { from: FIRST, until: FIRST + 15 };
        const parts = (region: string) => [
          { ...before, ...daysApart, region, wasted: { leak: 3 } },
          { ...after, from: FIRST + 15, wasted: { leak: 2, dose: 1 } },
        ];
        const stayed = only([knownUnit({}, parts('alder-county'))]);
        const formerRegions = [{ region: 'copper-flats', until: FIRST + 14 }];
        const moved = accountsOf([knownUnit({ formerRegions }, parts('copper-flats'))], endOfMonth(0));
        expect(moved.map(({ region }) => region)).toEqual(['alder-county', 'copper-flats']);
        const sum = (of: (account: SaltAccount) => number) =>
          moved.reduce((total, each) => total + of(each), 0);
        const additive: ((account: SaltAccount) => number)[] = [
          ({ saltLb }) => saltLb.value,
          ({ waterGallons }) => waterGallons.value,
          ({ daysExpected }) => daysExpected,
          ({ daysCounted }) => daysCounted,
          ({ regenerationsImputed }) => regenerationsImputed,
          ({ grainsRemoved, imputedGrains }) => grainsRemoved + imputedGrains,
          ({ deliveredSaltLb }) => deliveredSaltLb,
          ({ sodiumInWaterLb }) => sodiumInWaterLb,
          ({ wastedLb }) => wastedLb.leak,
          ({ wastedLb }) => wastedLb.dose,
        ];
        for (const of of additive) expect(sum(of)).toBeCloseTo(of(stayed), 4);
      }),
    );
  });

  it('is not wider on the mean with more sensors, where they are finer than what units differ by', () => {
    const dose = 80;
    const halfWidths = [0, 0.25, 0.5, 0.75, 1].map((sensed) => {
      const widths = fc
        .sample(fc.array(fc.integer({ min: -15, max: 15 }), { minLength: 40, maxLength: 40 }), {
          numRuns: 50,
          seed: 7,
        })
        .map((percents) => {
          const company = percents.map((percent, index) =>
            knownUnit({ unitId: `u-${index}` }, [
              index < sensed * percents.length
                ? {
                    ...{ measuredSaltLb: dose * (1 + percent / 100), measuredDoseLb: dose },
                    // Ten regenerations, each the difference of two readings that scatter by 1 lb.
                    measuredVariance: 20,
                  }
                : { inferredSaltLb: dose },
            ]),
          );
          const { low, high } = only(company).saltLb;
          return (high - low) / 2;
        });
      return widths.reduce((total, each) => total + each, 0) / widths.length;
    });
    expect(halfWidths.toSorted((a, b) => b - a)).toEqual(halfWidths);
    expect(halfWidths[4]).toBeLessThan((halfWidths[0] ?? 0) / 2);
  });

  it('comes out by hand where nothing is measured, and where all is', () => {
    const dosed = knownUnit({}, [{ inferredSaltLb: 100, imputedSaltLb: 20, imputedSaltVariance: 9 }]);
    const { saltLb, drawnShare } = only([dosed]);
    const { mean, deviation, unitDeviation } = rules.drawnShare;
    expect(saltLb.value).toBeCloseTo(120 * mean, 9);
    // 90 % point of the normal distribution, from tables: 1.2816.
    const spread = Math.sqrt(120 ** 2 * (deviation ** 2 + unitDeviation ** 2) + mean ** 2 * 9);
    expect(saltLb.high - saltLb.value).toBeCloseTo(1.2816 * spread, 3);
    expect(drawnShare.high - drawnShare.value).toBeCloseTo(1.2816 * deviation, 6);

    const read = knownUnit({}, [{ measuredSaltLb: 90, measuredDoseLb: 100, measuredVariance: 64 }]);
    const measured = only([read]).saltLb;
    expect(measured.value).toBe(90);
    expect(measured.high - measured.value).toBeCloseTo(1.2816 * 8, 3);
  });

  it('believes many sensors over the rules, and takes from them how far units differ', () => {
    const units = Array.from({ length: 2000 }, (_, index) => {
      const measuredSaltLb = 80 * (index % 2 === 0 ? 0.7 : 0.9);
      return knownUnit({ unitId: `u-${index}` }, [{ measuredSaltLb, measuredDoseLb: 80 }]);
    });
    const dosed = knownUnit({ unitId: 'dosed', region: 'other' }, [{ inferredSaltLb: 80 }]);
    const [, other] = accountsOf([...units, dosed], endOfMonth(0));
    expect(other?.drawnShare.value).toBeCloseTo(0.8, 2);
    // Units lie 0.1 about the share.
    expect(other?.saltLb.high).toBeCloseTo(80 * (0.8 + 1.2816 * 0.1), 0);
  });

  it('says nothing less than nothing of chloride and sodium where noise made salt negative', () => {
    const account = only([knownUnit({}, [{ measuredSaltLb: -4, measuredDoseLb: 8, measuredVariance: 18 }])]);
    expect(account.saltLb.value).toBe(-4);
    expect(account.saltLb.high).toBeGreaterThan(0);
    expect(account.chlorideLb).toMatchObject({ value: 0, low: 0 });
    expect(account.sodiumLb).toMatchObject({ value: 0, low: 0 });
    expect(account.grainsPerLb).toBeNull();
  });
});
