import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { billOf, SERVICES } from '../../../bench/scale/bill.ts';
import { driversOf } from '../../../bench/scale/drivers.ts';
import { measureCapacity } from '../../../bench/scale/measure/measure.ts';
import { readMeasured } from '../../../bench/scale/measured.ts';
import { PRICES } from '../../../bench/scale/prices.ts';
import { allOf } from '../../../bench/scale/unitDay.ts';
import { capacityOf, DAYS_A_MONTH, distinct, usageOf } from '../../../bench/scale/usage.ts';
import { keysOf } from '../../../shared/records.ts';
import { testTable } from '../../support/table.ts';

const measured = await readMeasured(new URL('../../../bench/scale/measured.json', import.meta.url));
const batches = {
  ingest: { messages: 60, seconds: 0.2 },
  assess: { messages: 8, seconds: 0.1 },
  noon: { messages: 9, seconds: 0.05 },
  notify: { messages: 1, seconds: 0.1 },
};

describe('capacity units', () => {
  test('are those that a fresh run of the store bench counts', { timeout: 180_000 }, async () => {
    const table = await testTable();
    try {
      const fresh = await measureCapacity(table.client, 'fresh', { faults: 0, warm: false });
      const known = measured.capacity.cold;
      expect(fresh.events).toBeCloseTo(known.events, 9);
      const [now, before] = [allOf(fresh.units), allOf(known.units)];
      // The same histories; only ids that the handlers draw differ.
      expect(Math.abs(now.write / before.write - 1)).toBeLessThan(0.01);
      expect(Math.abs(now.read / before.read - 1)).toBeLessThan(0.01);
    } finally {
      await table.close();
    }
  });

  test('are what the bill is made of, for sound units to the last one', () => {
    const drivers = { ...driversOf(1_000_000, batches), openShare: 0, companies: 0 };
    const usage = usageOf(measured, drivers);
    const { write, read } = capacityOf(measured, drivers);
    const counted = allOf(measured.capacity.cold.units);
    expect(usage.dynamodbReads).toBeCloseTo(1_000_000 * DAYS_A_MONTH * counted.read, 3);
    expect(read).toBeCloseTo(counted.read, 9);
    expect(usage.dynamodbWrites).toBeCloseTo(1_000_000 * DAYS_A_MONTH * write, 3);
    // What the embedded table does not count: writes to the index, here of the few alerts of sound units.
    expect(write).toBeGreaterThanOrEqual(counted.write);
    expect(write / counted.write).toBeLessThan(1.1);
  });
});

describe('the bill', () => {
  test('adds up, each price once', () => {
    const names = Object.values(SERVICES).flat();
    expect([...names].sort()).toEqual(Object.keys(PRICES).sort());
    const bill = billOf(usageOf(measured, driversOf(12_345, batches)));
    const lines = Object.values(bill.lines).reduce((sum, each) => sum + each, 0);
    expect(bill.total).toBeCloseTo(lines, 9);
  });

  test('grows with the fleet, in every service', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1_000, max: 1e7 }),
        fc.double({ min: 1.01, max: 3, noNaN: true }),
        (meters, times) => {
          // Whole numbers of companies and people are rounded: what follows from them alone may stay.
          const bill = (count: number) => billOf(usageOf(measured, driversOf(Math.round(count), batches)));
          const [small, large] = [bill(meters), bill(meters * times)];
          for (const service of Object.keys(SERVICES) as (keyof typeof SERVICES)[]) {
            expect(large.services[service]).toBeGreaterThanOrEqual(small.services[service] * (1 - 1e-9));
          }
        },
      ),
    );
  });

  test('has tiers without a leap between them', () => {
    // So many meters as send about a thousand million messages a month.
    const meters = 1e9 / (DAYS_A_MONTH * (measured.capacity.cold.events + 2));
    const messaging = (count: number) => {
      const { lines } = billOf(usageOf(measured, driversOf(count, batches)));
      return lines.iotMessages + lines.iotMessagesNext + lines.iotMessagesLast;
    };
    const [below, above] = [messaging(meters * 0.999), messaging(meters * 1.001)];
    expect(above / below).toBeGreaterThan(1);
    expect(above / below).toBeLessThan(1.0021);
  });

  test('has a source for every price', () => {
    for (const name of keysOf(PRICES)) {
      const { usd, per, source } = PRICES[name];
      expect(usd, name).toBeGreaterThan(0);
      expect(per, name).toBeGreaterThan(0);
      expect(source, name).toMatch(/from memory, unverified|AWS|Amazon/);
    }
  });
});

test('as many kinds turn up as drawing by chance gives', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 60 }),
      fc.integer({ min: 0, max: 60 }),
      fc.nat(),
      (groups, drawn, seed) => {
        let state = seed;
        const next = () => {
          // Numerical Recipes' linear congruential generator, from memory, unverified; its high bits will do here.
          state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
          return state / 2 ** 32;
        };
        const runs = 400;
        let found = 0;
        for (let run = 0; run < runs; run += 1) {
          found += new Set(Array.from({ length: drawn }, () => Math.floor(next() * groups))).size;
        }
        // Six standard errors; the number of kinds varies by less than the square root of the draws.
        const error = (6 * Math.sqrt(Math.max(1, drawn))) / Math.sqrt(runs);
        expect(Math.abs(distinct(groups, drawn) - found / runs)).toBeLessThan(error);
      },
    ),
    { numRuns: 40 },
  );
});
