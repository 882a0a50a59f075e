import fc from 'fast-check';
import { expect, test } from 'vitest';
import { choiceOf } from '../../../console/regions/choice.ts';
import { MEASURES } from '../../../console/regions/measures.ts';
import { monthNames, yearBefore, yearUntil } from '../../../console/regions/months.ts';
import { toldOf, valueBar } from '../../../console/regions/monthTold.ts';
import { dayParts, saltParts, sharesOf } from '../../../console/regions/shares.ts';
import { monthOf, type RegionMonth } from '../../../console/regions/toldMonths.ts';
import { periodOf } from '../../../console/regions/waste/period.ts';
import { wholeness } from '../../../lib/salt/account/wholeness.ts';
import { keysOf } from '../../../shared/records.ts';
import { account, companies, month, toldOver } from './saltAccounts.ts';

const US = { units: 'us', locale: 'en-US', timeZone: 'UTC' } as const;
const METRIC = { ...US, units: 'metric' } as const;

const sumOf = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0);

test('a month is taken as it was told, to the last figure', () => {
  fc.assert(
    fc.property(account, ({ asOf: _, ...each }) => {
      expect({ region: each.region, ...monthOf(toldOver({ asOf: 0, ...each })) }).toEqual(each);
    }),
  );
});

test('nothing is lost or made when what is told becomes regions', () => {
  fc.assert(
    fc.property(companies, ({ items, accounts }) => {
      const all = accounts.regions.flatMap(({ months }) => months);
      expect(sumOf(all.map(({ daysExpected }) => daysExpected))).toBe(
        sumOf(items.map(({ daysExpected }) => daysExpected)),
      );
      expect(monthNames(accounts)).toEqual([...new Set(items.map((each) => each.month))].sort());
      for (const { region, months } of accounts.regions) {
        const names = months.map((each) => each.month);
        expect(names).toEqual(
          items
            .filter((each) => each.region === region)
            .map((each) => each.month)
            .sort(),
        );
      }
    }),
  );
});

test('shares make up 1, none below 0, and stand to each other as what they are of', () => {
  fc.assert(
    fc.property(account, (each) => {
      for (const parts of [saltParts(each), dayParts(each)]) {
        const amounts = parts.map(({ value }) => Math.max(0, value));
        const shares = sharesOf(parts)?.map(({ value }) => value);
        if (sumOf(amounts) === 0) expect(shares).toBeUndefined();
        else {
          expect(sumOf(shares ?? [])).toBeCloseTo(1, 9);
          for (const [index, share] of (shares ?? []).entries())
            expect(share * sumOf(amounts)).toBeCloseTo(amounts[index] ?? Number.NaN, 3);
        }
      }
    }),
  );
});

test('a bar is as high as its value in both units, and its whisker reaches about it', () => {
  fc.assert(
    fc.property(
      account,
      fc.constantFrom(...keysOf(MEASURES)),
      fc.constantFrom(US, METRIC),
      (each, name, likings) => {
        const told = toldOf(each, MEASURES[name], 0, likings);
        const { parts, range } = valueBar(told, MEASURES[name]);
        const value = told.estimate?.value ?? 0;
        expect(sumOf(parts.map((part) => part.value)) / Math.max(1, Math.abs(value))).toBeCloseTo(
          value / Math.max(1, Math.abs(value)),
          9,
        );
        if (range) {
          expect(range.low).toBeLessThanOrEqual(value);
          expect(range.high).toBeGreaterThanOrEqual(value);
        }
      },
    ),
  );
});

test('a period has all of what its months have, each pound under one cause, the most first', () => {
  fc.assert(
    fc.property(fc.array(account, { maxLength: 13 }), (months) => {
      const period = periodOf(months);
      const booked = sumOf(months.flatMap(({ wastedLb }) => Object.values(wastedLb)));
      expect(period.wastedLb / Math.max(1, booked)).toBeCloseTo(booked / Math.max(1, booked), 9);
      const lbs = period.wasted.map(({ lb }) => lb);
      expect(lbs).toEqual(lbs.toSorted((a, b) => b - a));
      expect(period.saltLb.low).toBeLessThanOrEqual(period.saltLb.value);
      expect(period.saltLb.high).toBeGreaterThanOrEqual(period.saltLb.value);
    }),
  );
});

test('a year ends with its month and has no month twice', () => {
  fc.assert(
    fc.property(fc.uniqueArray(month), month, account, (names, last, any) => {
      const months: RegionMonth[] = names.map((name) => ({ ...any, month: name }));
      const year = yearUntil(months, last).map((each) => each.month.slice(5));
      expect(new Set(year).size).toBe(year.length);
      expect(yearUntil(months, last).some((each) => each.month === last)).toBe(names.includes(last));
    }),
  );
});

test('a month runs until it is over everywhere, and is whole after that if all of its days are owed', () => {
  fc.assert(
    fc.property(month, fc.integer({ min: 1, max: 500 }), account, (name, units, told) => {
      const [year = 0, number = 0] = name.split('-').map(Number);
      const days = (Date.UTC(year, number) - Date.UTC(year, number - 1)) / 86_400_000;
      const whole = { ...told, month: name, units, daysExpected: days * units };
      // The last place on Earth is 12 hours behind.
      const over = Date.UTC(year, number) + 12 * 3_600_000;
      expect(wholeness(whole, over - 1)).toBe('running');
      expect(wholeness(whole, over)).toBe('whole');
      expect(wholeness({ ...whole, daysExpected: units }, over)).toBe('begun-within');
    }),
  );
});

test('the year before has the same month', () => {
  fc.assert(
    fc.property(month, (name) => {
      expect(yearBefore(name).slice(4)).toBe(name.slice(4));
      expect(Number(yearBefore(name).slice(0, 4))).toBe(Number(name.slice(0, 4)) - 1);
    }),
  );
});

test('an address gives the choice that it was written from, and one that is none whatever it says', () => {
  fc.assert(
    fc.property(
      fc.dictionary(fc.constantFrom('of', 'region', 'month', 'per', 'over'), fc.anything()),
      (address) => {
        const choice = choiceOf(address);
        expect(choiceOf({ ...choice })).toEqual(choice);
        expect(keysOf(MEASURES)).toContain(choice.of);
      },
    ),
  );
});
