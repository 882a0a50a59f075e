import { describe, expect, it } from 'vitest';
import { SaltAccounts } from '../../../../lib/salt/account/saltAccounts.ts';
import type { SUMMED } from '../../../../lib/salt/monthAccount.ts';
import { RegionMonths } from '../../../../lib/salt/regionMonths.ts';
import { saltCsv } from '../../../../lib/salt/saltCsv.ts';
import { addWasted, type Wasted } from '../../../../lib/salt/waste.ts';
import { rulesSchema } from '../../../../lib/watch/rules.ts';
import { parseLocalDate } from '../../../../shared/time/localDate.ts';
import { knownOf, monthsOf } from '../../../support/accountsOf.ts';
import { registryOf, unitRecord } from '../../../support/fleet.ts';
import { APRIL, HONOLULU, NEW_YORK, RULES, UNITS, UNTIL, WHOLE } from './workedUnits.ts';

const registry = registryOf(
  ...UNITS.map(({ unitId, record }) => unitRecord({ unitId, siteId: unitId, ...record })),
);
const lines = UNITS.flatMap(({ unitId, events }) =>
  events.map((event) => JSON.stringify({ ...event, source: `/companies/fenwick-water/units/${unitId}` })),
);
const replayed = knownOf(lines, registry, UNTIL, RULES);
const months = monthsOf(replayed, UNTIL);
const march = months.filter(({ month }) => month === '2026-03');

describe('a month by hand', () => {
  it.each(UNITS.map((unit) => [unit.unitId, unit.what, unit] as const))('%s %s', (unitId, _, { want }) => {
    const own = march.filter((each) => each.unitId === unitId);
    expect(own.map(({ region }) => region)).toEqual(Object.keys(want));
    for (const account of own) {
      const { wasted, ...figures } = { ...WHOLE, ...want[account.region] };
      for (const [name, value] of Object.entries(figures))
        expect([name, account[name as keyof typeof figures]]).toEqual([
          name,
          expect.closeTo(Number(value), 7),
        ]);
      const close = Object.entries(wasted ?? {}).map(([cause, pounds]) => [cause, expect.closeTo(pounds, 8)]);
      expect(account.wasted).toEqual(Object.fromEntries(close));
      expect(account.saltDoseLb).toBe(6);
    }
  });

  it('sets one line aside, knows one copy, and leaves to other months what is theirs', () => {
    expect(
      replayed.map(({ conflicts, duplicates }) => conflicts.length + 10 * duplicates).filter(Boolean),
    ).toEqual([11]);
    const other = (month: string, unitId: string) =>
      months.find((each) => each.month === month && each.unitId === unitId);
    expect(other('2026-04', 'u-01')).toMatchObject({ regenerations: 1, daysCounted: 0 });
    expect(other('2026-02', 'u-16')).toMatchObject({ regenerations: 1, daysExpected: 0 });
    // 239.76 + 239.75544, before a regeneration was due.
    expect(other('2026-02', 'u-04')).toMatchObject({
      daysCounted: 2,
      daysImputed: 2,
      regenerationsImputed: 0,
    });
    expect(other('2026-02', 'u-04')?.imputedGallons).toBeCloseTo(479.51544, 7);
    expect(other('2026-04', 'u-05')).toMatchObject({ daysCounted: 2, daysExpected: 4, daysImputed: 2 });
  });

  it('adds up to the regions', () => {
    const of = (region: string) => {
      const units = march.filter((each) => each.region === region);
      const total = (name: (typeof SUMMED)[number]) => units.reduce((sum, unit) => sum + unit[name], 0);
      const wasted = units.reduce<Wasted>((all, unit) => addWasted(all, unit.wasted), {});
      return { total, wasted, units };
    };
    const alder = of('alder-county');
    expect(alder.units).toHaveLength(10);
    for (const [name, value] of [
      // u-01, 02, 03, 04, 05, 08, 11, 12, 13, 15, in that order.
      ['daysCounted', 31 + 30 + 30 + 28 + 29 + 15 + 31 + 31 + 31 + 31],
      ['daysImputed', 1 + 1 + 3 + 2],
      ['regenerations', 7 + 7 + 6 + 7 + 7 + 3 + 7 + 7 + 7 + 7],
      ['regenerationsImputed', 2],
      ['treatedGallons', 69_140],
      ['imputedGallons', 239.76 + 239.76 + 719.2660464 + 479.51544],
      ['measuredSaltLb', 0],
      ['inferredSaltLb', 42 + 42 + 36 + 42 + 42 + 18 + 42 + 42 + 42 + 42],
      ['imputedSaltLb', 12],
      ['deliveredSaltLb', 40],
      ['grainsRemoved', 1_382_800],
      ['imputedGrains', 33_566.029728],
    ] as const)
      expect([name, alder.total(name)]).toEqual([name, expect.closeTo(value, 6)]);

    // 1.61994336 of u-01, 05, 11 and 15 each; 1.62132288, 1.38132288, 1.6243470816, 0.65970144, 0.46261728 and 1.56.
    expect(alder.wasted.reserve).toBeCloseTo(13.7890850016, 8);
    expect(alder.wasted.leak).toBeCloseTo(1.19520215, 8);
    expect(Object.keys(alder.wasted).sort()).toEqual(['dose', 'leak', 'reserve']);

    const birch = of('birch-county');
    // 0.89976192, 0.65970144, 0.96024192, 1.61994336, 1.61994336, 4.32 and 3.05994336; by hand 1.68 and 0.8341872.
    expect(birch.wasted.reserve).toBeCloseTo(13.13953536, 8);
    expect(birch.wasted.manual).toBeCloseTo(2.5141872, 8);
    expect(birch.wasted['calendar-limit']).toBeCloseTo(0.24, 8);
    expect(birch.units).toHaveLength(7);
    for (const [name, value] of [
      // u-06, 07, 08, 09, 10, 14, 16.
      ['daysCounted', 19 + 16 + 16 + 31 + 31 + 31 + 31],
      ['daysImputed', 12],
      ['regenerations', 4 + 3 + 4 + 7 + 8 + 8 + 8],
      ['regenerationsImputed', 3],
      ['treatedGallons', 42_000],
      ['imputedGallons', 2_877.068928],
      ['measuredSaltLb', 33.613867866],
      ['inferredSaltLb', 24 + 18 + 24 + 6 + 42 + 48 + 48],
      ['imputedSaltLb', 18],
      ['regenerationGallons', 50],
      ['grainsRemoved', 840_000],
    ] as const)
      expect([name, birch.total(name)]).toEqual([name, expect.closeTo(value, 6)]);
  });

  it('is what the accounts and salt.csv say', () => {
    const accounts = new SaltAccounts(UNTIL, rulesSchema.parse(RULES).salt);
    const regions = new RegionMonths(UNTIL);
    for (const each of replayed) {
      accounts.add(each);
      regions.add(each.unit, each.months, each.firstDate);
    }
    const [alder, birch] = accounts.accounts().filter(({ month }) => month === '2026-03');
    expect(alder).toMatchObject({
      units: 10,
      unitsReporting: 10,
      unitsMeasured: 0,
      daysExpected: 294,
      daysImputed: 7,
    });
    expect(birch).toMatchObject({
      units: 7,
      unitsReporting: 7,
      unitsMeasured: 1,
      daysExpected: 187,
      daysImputed: 12,
    });
    for (const account of [alder, birch]) {
      const salt = account?.saltLb.value ?? Number.NaN;
      // 35.453 / 58.443 and 22.98977 / 58.443; sodium in the water by 22.98977 / 50.04345 / 7,000 lb a grain.
      expect((account?.chlorideLb.value ?? 0) / salt).toBeCloseTo(0.60663, 4);
      expect((account?.sodiumLb.value ?? 0) / salt).toBeCloseTo(0.39337, 4);
      expect(
        (account?.measuredSaltLb ?? 0) + (account?.inferredSaltLb ?? 0) + (account?.imputedSaltLb ?? 0),
      ).toBeCloseTo(salt, 9);
    }
    // (1,382,800 + 33,566.03) gr x 0.000065628; (840,000 + 57,541.38) gr likewise.
    expect(alder?.sodiumInWaterLb).toBeCloseTo(92.953, 2);
    expect(birch?.sodiumInWaterLb).toBeCloseTo(58.904, 2);

    // Nothing imputed here: 390 lb and 0.606625 of it; 243.613867866 lb, of which 33.61 measured.
    const rows = saltCsv(regions.rows()).split('\r\n');
    expect(rows).toContain('alder-county,2026-03,10,287,7,65,69140,390,0,1,0,1382800,3545.6,236.58');
    expect(rows).toContain(
      'birch-county,2026-03,7,175,12,42,42000,243.61,0.138,0.862,50,840000,3448.1,147.78',
    );
  });
});

it('has days of 23 hours in it, and of another month at the same instant', () => {
  const eighth = parseLocalDate('2026-03-08') ?? 0;
  expect(NEW_YORK.startOf(eighth + 1) - NEW_YORK.startOf(eighth)).toBe(23 * 3_600_000);
  const instant = Date.parse('2026-04-01T05:00:00Z');
  expect([NEW_YORK.dateAt(instant), HONOLULU.dateAt(instant)]).toEqual([APRIL + 1, APRIL]);
});
