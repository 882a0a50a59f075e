import { existsSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Bound, Found } from '../../bench/comparisons/comparison.ts';
import { COMPARISONS } from '../../bench/comparisons/list.ts';
import { growthBound } from '../../bench/comparisons/replay/growth.ts';
import { linearAxis, logarithmicAxis } from '../../bench/set/axis.ts';
import { byTurns } from '../../bench/set/byTurns.ts';
import { pageOf } from '../../bench/set/page.ts';
import { readResults } from '../../bench/set/readResults.ts';
import { resultOf, resultSchema, resultText } from '../../bench/set/result.ts';
import { spreadOf } from '../../bench/set/spread.ts';
import { escaped } from '../../lib/chart/svg.ts';

const numbers = fc.array(fc.double({ min: 1e-6, max: 1e9, noNaN: true }), { minLength: 1, maxLength: 9 });
const words = fc.string({ minLength: 1, maxLength: 30 });

test('as many rounds lie below a median as above it, whatever their order', () => {
  fc.assert(
    fc.property(numbers, (rounds) => {
      const { median, least, most } = spreadOf(rounds);
      expect(rounds.filter((each) => each < median).length).toBeLessThanOrEqual(rounds.length / 2);
      expect(rounds.filter((each) => each > median).length).toBeLessThanOrEqual(rounds.length / 2);
      expect([least, most]).toEqual([Math.min(...rounds), Math.max(...rounds)]);
      expect(spreadOf([...rounds].reverse())).toEqual({ median, least, most });
    }),
  );
  expect(() => spreadOf([])).toThrow(RangeError);
});

test('sides take turns, and every other round goes backwards', async () => {
  const order: string[] = [];
  const side = (name: string) => ({ name, run: () => order.push(name) });
  const said = await byTurns([side('a'), side('b'), side('c')], 3, () => {});
  expect(order.join('')).toBe('abccbaabc');
  expect(said.get('b')).toEqual([2, 5, 8]);
});

test('an axis holds its values between its first tick and its last', () => {
  for (const axis of [linearAxis, logarithmicAxis]) {
    fc.assert(
      fc.property(numbers, (values) => {
        const { at, ticks } = axis(values, 0, 100);
        expect([...ticks].sort((a, b) => a - b)).toEqual(ticks);
        expect(ticks.length).toBeGreaterThan(1);
        for (const value of values) {
          expect(at(value)).toBeGreaterThan(-1e-6);
          expect(at(value)).toBeLessThan(100 + 1e-6);
        }
      }),
    );
  }
  expect(linearAxis([1, 2], 0, 100).ticks).toEqual([0, 1, 2]);
});

const bound: fc.Arbitrary<Bound> = fc
  .record({ what: words, asked: words, measured: words, because: words })
  .chain(({ because, ...rest }) =>
    fc.boolean().map((holds) => (holds ? { ...rest, holds } : { ...rest, holds, because })),
  );
const found: fc.Arbitrary<Found> = fc.record({
  measured: fc.array(fc.record({ what: words, unit: words, rounds: numbers }), { maxLength: 3 }),
  plots: fc.array(
    fc.record({
      ...{ title: words, x: words, y: words, logarithmic: fc.boolean() },
      lines: fc.array(
        fc.record({
          name: words,
          points: fc.array(
            fc.record({ x: fc.integer({ min: 1, max: 1e6 }), y: fc.integer({ min: 1, max: 1e6 }) }),
            {
              minLength: 1,
              maxLength: 4,
            },
          ),
        }),
        { minLength: 1, maxLength: 3 },
      ),
    }),
    { maxLength: 2 },
  ),
  bounds: fc.array(bound, { minLength: 1, maxLength: 4 }),
  notes: fc.array(words, { maxLength: 3 }),
});

test('the page says of every bound what the file says, and of one that does not hold why', () => {
  fc.assert(
    fc.property(found, (each) => {
      const result = resultSchema.parse(
        JSON.parse(resultText(resultOf({ name: 'replay', question: 'How far?' }, 'whole', each))),
      );
      expect(result.found.bounds).toEqual(each.bounds);
      const page = pageOf([result]);
      const rows = page.split('<tr').slice(2, 2 + each.bounds.length);
      each.bounds.forEach(({ what, asked, measured, holds, because }, index) => {
        const row = rows[index] ?? '';
        for (const text of [what, asked, measured]) expect(row).toContain(`>${escaped(text)}<`);
        expect(row).toContain(`>${holds ? 'yes' : 'no'}</td>`);
        expect(row.startsWith(' class="broken"')).toBe(!holds);
        if (because !== undefined) expect(row).toContain(`Why: ${escaped(because)}`);
      });
      for (const note of each.notes) expect(page).toContain(escaped(note));
      expect(page).not.toMatch(/<script|<link|<img|@import|(?:src|href)="(?!#)/);
    }),
    { numRuns: 50 },
  );
});

test('growth is out of bounds from a tenth more a unit-day than the median, and then says where and why', () => {
  const took = (seconds: (unitDays: number) => number) =>
    [100, 1000, 10_000, 100_000].map((unitDays) => ({
      name: `${unitDays}`,
      unitDays,
      seconds: seconds(unitDays),
    }));
  expect(
    growthBound(
      '',
      took((unitDays) => unitDays),
    ),
  ).toMatchObject({ holds: true, measured: '0 % to 0 %' });
  const once = growthBound(
    '',
    took((unitDays) => 0.001 * unitDays + 2),
  );
  expect(once.holds).toBe(false);
  expect(once.because).toContain('takes about 2.0 s once');
  const square = growthBound(
    '',
    took((unitDays) => 0.001 * unitDays + (unitDays / 10_000) ** 2),
  );
  expect(square.holds).toBe(false);
  expect(square.because).toContain('% at 100000');
  expect(square.because).not.toContain('once');
});

test('the page that is kept is the one that its files give', () => {
  const path = 'bench/results/index.html';
  const results = readResults(
    'bench/results',
    COMPARISONS.map(({ name }) => name),
  );
  expect(existsSync(path)).toBe(results.length > 0);
  if (results.length > 0) expect(readFileSync(path, 'utf8')).toBe(pageOf(results));
  for (const { size } of results) expect(size).toBe('whole');
});
