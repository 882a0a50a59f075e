import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { askedTotal } from '../../../../lib/salt/deliveries/askedTotal.ts';
import { bagChances, bagsFor } from '../../../../lib/salt/deliveries/bags.ts';
import type { SaltNeed } from '../../../../lib/salt/deliveries/delivery.ts';
import { deliveryPlan, WEEKS, type WeekSum } from '../../../../lib/salt/deliveries/deliveryPlan.ts';

const TODAY = 20_000;
const place = {
  region: fc.constantFrom('alder-county', 'high-basin'),
  round: fc.constantFrom('mill-road', 'old-town', null),
};

const dated = fc
  .record({
    ...place,
    by: fc.integer({ min: TODAY - 40, max: TODAY + 80 }),
    spread: fc.nat(20),
    shift: fc.double({ min: 0, max: 8, noNaN: true }),
    deviationDays: fc.double({ min: 0, max: 9, noNaN: true }),
    bags: fc.integer({ min: 1, max: 6 }),
  })
  .map(
    ({ region, round, by, spread, shift, deviationDays, bags }): SaltNeed => ({
      is: 'dated',
      delivery: {
        ...{ unitId: 'u', region, round, by, levelLb: 30, levelDeviationLb: 2, roomLb: bags * 40 },
        runsOut: { p10: by + 1, p50: by + 1 + spread, p90: null },
        ...{ levelBy: 'sensor', isEmpty: false, lbPerWeek: 10, bags },
        bagChances: Array.from({ length: bags }, (_, index) => Number(index + 1 === bags)),
        asked: { day: by + shift, deviationDays },
      },
    }),
  );
const byRate = fc
  .record({
    ...place,
    lbPerWeek: fc.double({ min: 0.1, max: 150, noNaN: true }),
    bags: fc.integer({ min: 1, max: 6 }),
  })
  .map((each): SaltNeed => ({ is: 'by-rate', byRate: { unitId: 'u', ...each, why: 'no-sensor' } }));
const none = fc.constant<SaltNeed>({ is: 'none', why: 'set-up' });

const needs = fc
  .array(fc.oneof(dated, dated, byRate, none), { maxLength: 60 })
  .map((all) => all.map((need, index) => named(need, `u-${index}`)));

function named(need: SaltNeed, unitId: string): SaltNeed {
  if (need.is === 'dated') return { ...need, delivery: { ...need.delivery, unitId } };
  return need.is === 'by-rate' ? { ...need, byRate: { ...need.byRate, unitId } } : need;
}

const sumOf = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0);
const BAG = { bagLb: 40 };

describe('a plan', () => {
  it('has every house that may run out within 28 days in one week, that of its last safe day, and no other', () => {
    fc.assert(
      fc.property(needs, (all) => {
        const { houses, weeks, others } = deliveryPlan(all, TODAY, BAG);
        const due = all.flatMap((need) =>
          need.is === 'dated' && need.delivery.runsOut.p10 <= TODAY + 28 ? [need.delivery.unitId] : [],
        );
        expect(houses.map(({ unitId }) => unitId).sort()).toEqual(due.sort());
        for (const { by, week } of houses) {
          const in_ = weeks.filter(({ from, to }) => by <= to && (from === null || by >= from));
          expect(in_.map((each) => each.week)).toContain(week);
          expect(by < TODAY).toBe(week === 0);
        }
        const days = houses.map(({ by }) => by);
        expect(days).toEqual([...days].sort((a, b) => a - b));
        expect(
          houses.length + others.later + others['set-up'] + all.filter(({ is }) => is === 'by-rate').length,
        ).toBe(all.length);
      }),
    );
    expect(deliveryPlan([], TODAY, BAG).weeks.slice(1)).toEqual([
      { week: 1, from: TODAY, to: TODAY + 6 },
      { week: 2, from: TODAY + 7, to: TODAY + 13 },
      { week: 3, from: TODAY + 14, to: TODAY + 20 },
      { week: 4, from: TODAY + 21, to: TODAY + 27 },
    ]);
  });

  it('adds up: rounds to the total, units to the weeks, and bags to pounds', () => {
    fc.assert(
      fc.property(needs, (all) => {
        const { houses, byRate: rates, rounds, total } = deliveryPlan(all, TODAY, BAG);
        for (let week = 0; week <= WEEKS; week++) {
          const of = (pick: (sum: WeekSum) => number) =>
            sumOf(rounds.map(({ weeks }) => pick(weeks[week] ?? (total[0] as WeekSum))));
          const sum = total[week] as WeekSum;
          const own = houses.filter((house) => house.week === week);
          expect(sum.units).toBe(own.length);
          expect(sum.bags).toBe(sumOf(own.map(({ bags }) => bags)));
          expect(sum.lb).toBe(40 * sum.bags);
          expect(of(({ units }) => units)).toBe(sum.units);
          expect(of(({ bags }) => bags)).toBe(sum.bags);
          expect(of(({ byRateLb }) => byRateLb)).toBeCloseTo(sum.byRateLb, 6);
          expect(of(({ askedBags }) => askedBags.value)).toBeCloseTo(sum.askedBags.value, 6);
          expect(sum.askedBags.low).toBeLessThanOrEqual(sum.askedBags.value + 1);
          expect(sum.askedBags.high).toBeGreaterThanOrEqual(sum.askedBags.value - 1);
          // By rate as many pounds are asked for as are used; what is late is asked for as it stands.
          const late = sumOf(own.map(({ bags }) => bags));
          if (week === 0) expect(sum.askedBags).toEqual({ value: late, low: late, high: late });
          else expect(sum.byRateLb).toBeCloseTo(sumOf(rates.map(({ lbPerWeek }) => lbPerWeek)), 6);
        }
      }),
      { numRuns: 60 },
    );
  });

  it('by rate alone asks for as many bags as are used', () => {
    fc.assert(
      fc.property(fc.array(byRate, { minLength: 1, maxLength: 20 }), (all) => {
        const [, first] = deliveryPlan(all, TODAY, BAG).total;
        expect(40 * (first?.askedBags.value ?? 0)).toBeCloseTo(first?.byRateLb ?? 0, 6);
      }),
    );
  });
});

describe('bags that are asked for', () => {
  it('of ten houses, each of which takes one with 30 %, are 1 to 5 (binomial table: P(X <= 0) 0.0282, P(X <= 1) 0.1493, P(X <= 4) 0.8497, P(X <= 5) 0.9527)', () => {
    const asked = askedTotal(new Array(10).fill({ probability: 0.3, bagChances: [1] }));
    expect(asked).toEqual({ value: expect.closeTo(3, 9), low: 1, high: 5 });
  });

  it('are lumpy where a house takes two or none', () => {
    const half = { probability: 0.5, bagChances: [0, 1] };
    expect(askedTotal([half, half])).toEqual({ value: 2, low: 0, high: 4 });
    expect(askedTotal([])).toEqual({ value: 0, low: 0, high: 0 });
  });

  it('of many houses lie where their sum does if it is counted', () => {
    const house = { probability: 0.4, bagChances: [0.5, 0.3, 0.2] };
    const few = askedTotal(new Array(300).fill(house));
    const many = askedTotal([...new Array(300).fill(house), { probability: 1e-12, bagChances: [1] }]);
    expect(many.value).toBeCloseTo(few.value, 6);
    expect(Math.abs(many.low - few.low)).toBeLessThanOrEqual(1);
    expect(Math.abs(many.high - few.high)).toBeLessThanOrEqual(1);
  });
});

describe('bags that fit', () => {
  it('into 153 lb of room, known to 5 lb, are three; four with the 8.08 % that a normal table gives beyond 1.4', () => {
    expect(bagsFor(153, 40)).toBe(3);
    const chances = bagChances({ roomLb: 153, deviationLb: 5, tankLb: 200 }, 40);
    expect(chances).toHaveLength(5);
    expect(chances[3]).toBeCloseTo(0.0808, 4);
    expect(chances[2]).toBeCloseTo(0.9192, 4);
  });

  it('are at least one, whatever the room, and never more than the tank holds', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 400, noNaN: true }),
        fc.double({ min: 0, max: 60, noNaN: true }),
        fc.double({ min: 20, max: 400, noNaN: true }),
        (roomLb, deviationLb, tankLb) => {
          const chances = bagChances({ roomLb, deviationLb, tankLb }, 40);
          expect(chances).toHaveLength(Math.max(1, Math.floor(tankLb / 40)));
          expect(sumOf(chances)).toBeCloseTo(1, 9);
          expect(Math.min(...chances)).toBeGreaterThanOrEqual(-1e-12);
        },
      ),
    );
    expect(bagsFor(12, 40)).toBe(1);
  });
});
