import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  daysOf,
  isAhead,
  isLatest,
  isMonth,
  isRunning,
  monthNumber,
  monthOf,
  monthsLater,
  wholeMonth,
} from '../../../shared/time/month.ts';
import { monthSchema } from '../../../shared/time/monthSchema.ts';
import { zoneNamed } from '../../../shared/time/zone.ts';

const DAY = 86_400_000;
/** 0000-01-01 to 9999-12-31. */
const date = fc.integer({ min: -719_528, max: 2_932_896 });
const month = date.map(monthOf);

describe('a month', () => {
  it.each([
    ['2026-03', true],
    ['0000-01', true],
    ['9999-12', true],
    ['2026-00', false],
    ['2026-13', false],
    ['2026-3', false],
    ['2026-03-01', false],
    ['2026-03\n', false],
    ['+012026-03', false],
    ['', false],
  ])('%j is one: %s', (text, is) => {
    expect(isMonth(text)).toBe(is);
    expect(monthSchema.safeParse(text).success).toBe(is);
  });

  it('is the one that the runtime gives a date, and has its days and no others', () => {
    fc.assert(
      fc.property(date, (day) => {
        const independent = new Date(day * DAY);
        const { month: name, from, until } = wholeMonth(day);
        expect(Number(name.slice(0, 4))).toBe(independent.getUTCFullYear());
        expect(Number(name.slice(5))).toBe(independent.getUTCMonth() + 1);
        expect(from).toBe(day - independent.getUTCDate() + 1);
        independent.setUTCMonth(independent.getUTCMonth() + 1, 1);
        expect(until).toBe(independent.getTime() / DAY);
        expect(daysOf(name)).toEqual({ from, until });
      }),
    );
  });

  it('follows the one before, and as many months on lies as many apart', () => {
    fc.assert(
      fc.property(month, month, (one, other) => {
        const apart = monthNumber(other) - monthNumber(one);
        expect(monthsLater(one, apart)).toBe(other);
        expect(Math.sign(apart)).toBe(one < other ? 1 : one > other ? -1 : 0);
        if (one < '9999-12') expect(monthsLater(one, 1)).toBe(monthOf(daysOf(one).until));
      }),
    );
  });

  it('is none of which days could be told', () => {
    expect(() => daysOf('soon')).toThrow(RangeError);
    expect(() => daysOf('2026-13')).toThrow(RangeError);
  });

  it('begins where the day begins first, and is over where it ends last', () => {
    // IANA: no zone is further ahead than Pacific/Kiritimati; Etc/GMT+12 is that of ships furthest behind.
    const first = zoneNamed('Pacific/Kiritimati');
    const last = zoneNamed('Etc/GMT+12');
    const now = fc.integer({ min: Date.UTC(2000, 0), max: Date.UTC(2400, 0) });
    fc.assert(
      fc.property(now, fc.integer({ min: -30, max: 30 }), (at, hours) => {
        // Near the turn of a month, where it matters.
        const near = daysOf(monthOf(Math.floor(at / DAY))).from * DAY + hours * 3_600_000;
        const ahead = monthOf(first?.dateAt(near) ?? 0);
        const behind = monthOf(last?.dateAt(near) ?? 0);
        for (const name of [-2, -1, 0, 1, 2].map((months) => monthsLater(behind, months))) {
          expect(isAhead(name, near)).toBe(name > ahead);
          expect(isRunning(name, near)).toBe(name >= behind);
          expect(isLatest(name, near)).toBe(name >= monthsLater(behind, -1));
        }
      }),
    );
  });
});
