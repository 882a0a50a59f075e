import { mkdirSync } from 'node:fs';
import fc from 'fast-check';
import { afterAll, expect, test } from 'vitest';
import { LineTexts } from '../../bin/replay/lineTexts.ts';
import { Sheaf } from '../../bin/replay/sheaf.ts';
import { Shuffle, textsIn } from '../../bin/replay/shuffle.ts';
import { detached, RangeReader } from '../../bin/replay/unitRange.ts';
import { scratch } from '../support/command.ts';
import { facts } from '../support/facts.ts';

const folder = scratch();
afterAll(folder.remove);

const UNITS = 5;
const lines = fc.record({
  unit: fc.nat({ max: UNITS - 1 }),
  fact: facts,
  raw: fc.string({ unit: 'binary' }),
});
const blocks = fc.array(fc.array(lines, { maxLength: 8 }), { maxLength: 6 });
/** Bytes that are held in memory: none, some, all. */
const budgets = fc.constantFrom(0, 500, 2_000, 1e9);

test('each unit gets what it received, in its order, whatever is held in memory and however units are shared out', () => {
  fc.assert(
    fc.property(
      blocks,
      budgets,
      fc.integer({ min: 1, max: 4 }),
      fc.boolean(),
      (given, bytes, threads, away) => {
        const path = folder.folder();
        mkdirSync(path);
        const shuffle = new Shuffle(UNITS, path, bytes / (1 << 20));
        const sheaf = new Sheaf(UNITS);
        const expected = Array.from({ length: UNITS }, (): unknown[] => []);
        let position = 0;
        let line = 0;
        for (const block of given) {
          const lastKnown = new Float64Array(UNITS).fill(Number.NEGATIVE_INFINITY);
          for (const { unit, fact, raw } of block) {
            const text = Buffer.from(raw);
            line += 1;
            shuffle.keep(text);
            sheaf.add(unit, fact, line, position, text.length);
            position += text.length;
            lastKnown[unit] = Math.max(lastKnown[unit] ?? 0, fact.known);
            expected[unit]?.push({ line, fact, raw: text.toString() });
          }
          shuffle.adopt({ chunk: sheaf.bind(), lastKnown });
        }
        shuffle.seal();
        const texts = new LineTexts(textsIn(path));
        const found: unknown[][] = [];
        for (const range of shuffle.ranges(threads)) {
          expect(range.first).toBe(found.length);
          const reader = away
            ? new RangeReader(structuredClone(detached(range).range), texts)
            : shuffle.reader(range);
          for (let index = 0; index < range.end - range.first; index++) {
            found.push(reader.received(index).map(({ line, fact, raw }) => ({ line, fact, raw })));
          }
        }
        texts.close();
        shuffle.close();
        expect(found).toStrictEqual(expected);
      },
    ),
    { numRuns: 150 },
  );
});
