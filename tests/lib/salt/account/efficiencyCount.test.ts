import { describe, expect, it, test } from 'vitest';
import { asSetByMonth, inUseByMonth } from '../../../../lib/salt/account/efficiencyCount.ts';
import type { MonthAccount } from '../../../../lib/salt/monthAccount.ts';
import { unitMonths } from '../../../../lib/salt/unitMonths.ts';
import { endOfMonth, knownUnit } from '../../../support/saltMonths.ts';

type Given = Partial<MonthAccount> & { after?: number };

const monthsOf = (given: readonly Given[], resinCubicFeet = 1) =>
  unitMonths(knownUnit({ resinCubicFeet }, given), endOfMonth(given.length - 1));

describe('a unit as it is set', () => {
  // 35 Ill. Adm. Code 604.805(c): 20,000 grains a cubic foot at 6 lb, which is 3,333 a lb and just short of the 3,350 of
  // NSF/ANSI 44 (quoted by US DOE/PNNL). 80 gallons a cubic foot (AWWA/ASCE) are 4 a thousand grains.
  it('is short of the figure at 6 lb a cubic foot', () => {
    const reported = { regenerations: 4, regenerationGallons: 4 * 80 };
    expect(asSetByMonth(monthsOf([{ saltDoseLb: 6, ...reported }]))).toEqual([
      { nsf44: false, california2002: false },
    ]);
  });

  it('is judged with the water that it reports, from then on, and not before', () => {
    const resinCubicFeet = 2;
    const thirsty = { regenerations: 4, regenerationGallons: 4 * 400 };
    const silent = { regenerations: 2, inferredRegenerationGallons: 2 * 80 * resinCubicFeet };
    const set = { saltDoseLb: 7 };
    const verdicts = (months: Given[]) =>
      asSetByMonth(monthsOf(months, resinCubicFeet)).map((each) => each?.nsf44);
    expect(verdicts([set, { ...set, ...silent, after: 1 }])).toEqual([undefined, undefined]);
    // 3.5 lb a cubic foot holds less than 40,000 grains in 2: 400 gallons are over 5 a thousand grains at any rate.
    expect(
      verdicts([
        { ...set, ...thirsty },
        { ...set, after: 1 },
      ]),
    ).toEqual([false, false]);
  });

  test.each([0, null, 31, 1e9])('of %s lb a cubic foot is not judged', (saltDoseLb) => {
    expect(asSetByMonth(monthsOf([{ saltDoseLb }]))).toEqual([null]);
  });
});

describe('a unit in use', () => {
  /** So many months that remove so many grains with 10 lb and 100 gallons each. */
  const used = (grainsPerLb: number, daysCounted = 30, months = 7): Given[] =>
    Array.from({ length: months }, (_, after) => ({
      ...{ after, daysCounted, regenerations: 1, inferredSaltLb: 10, regenerationGallons: 100 },
      grainsRemoved: 10 * grainsPerLb,
    }));
  const last = (months: Given[]) => inUseByMonth(monthsOf(months), 180).at(-1);

  // NSF/ANSI 44: 3,350 grains per lb and 5 gallons a thousand grains (US DOE/PNNL); Cal. Health & Safety Code 116785: 4,000.
  // The most that NaCl can exchange: 5,993.9 (computed from the molar masses).
  test.each([
    [3340, { nsf44: false, california2002: false }],
    [3360, { nsf44: true, california2002: false }],
    [4010, { nsf44: true, california2002: true }],
    [6000, null],
    [0, null],
  ])('that removes %s grains per lb', (grainsPerLb, verdict) => {
    expect(last(used(grainsPerLb))).toEqual(verdict);
  });

  it('of too few reported days is not judged', () => {
    expect(last(used(4010, 25))).toBeNull();
    expect(last(used(4010, 26))).not.toBeNull();
  });

  it('is judged by the last 12 months and no more', () => {
    const poor = used(1000, 30, 12);
    const good = used(4010, 30, 12).map((month) => ({ ...month, after: (month.after ?? 0) + 12 }));
    const verdicts = inUseByMonth(monthsOf([...poor, ...good]), 180);
    expect(verdicts.at(11)).toEqual({ nsf44: false, california2002: false });
    expect(verdicts.at(22)).toEqual({ nsf44: true, california2002: false });
    expect(verdicts.at(23)).toEqual({ nsf44: true, california2002: true });
  });

  it('without salt, or with less than nothing of it by noise, is not judged', () => {
    const noisy = used(3500).map((month) => ({ ...month, inferredSaltLb: 0, measuredSaltLb: -1 }));
    expect(last(noisy)).toBeNull();
  });
});
