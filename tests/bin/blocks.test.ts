import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { blocksOf, eachLine } from '../../bin/replay/blocks.ts';
import { MAX_EVENT_BYTES } from '../../shared/quarantine.ts';

const BLOCK_BYTES = 70_000;

/** A text, or the length of one that may be too large: told by its length, so that a failure can be read. */
const piece = fc.oneof(
  {
    weight: 8,
    arbitrary: fc.string({ unit: fc.constantFrom('a', 'é', '\n', '\r\n', '\r', ' ', '\t', '\uFEFF') }),
  },
  { weight: 1, arbitrary: fc.integer({ min: MAX_EVENT_BYTES - 3, max: 200_000 }) },
);
const cuts = fc.array(fc.integer({ min: 1, max: 90_000 }), { maxLength: 12 });

async function linesIn(bytes: Buffer, sizes: readonly number[]) {
  async function* chunks() {
    let from = 0;
    for (const size of [...sizes, bytes.length]) {
      if (from < bytes.length) yield bytes.subarray(from, from + size);
      from += size;
    }
  }
  const found: { line: number; text: string }[] = [];
  for await (const block of blocksOf(chunks(), BLOCK_BYTES)) {
    expect(block.bytes.length).toBeLessThanOrEqual(BLOCK_BYTES);
    eachLine(block, (start, end, line) => {
      found.push({ line, text: block.bytes.toString('utf8', start, end) });
    });
  }
  return found;
}

test('however a stream is cut, its lines are those between its newlines', async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(piece), cuts, async (pieces, sizes) => {
      const text = pieces.map((each) => (typeof each === 'number' ? 'x'.repeat(each) : each)).join('');
      const found = await linesIn(Buffer.from(text), sizes);
      const expected = text
        .replace(/^\uFEFF/, '')
        .split('\n')
        .map((each, index) => ({ line: index + 1, text: each.replace(/\r$/, '') }))
        .filter(({ text: each }) => !/^[ \t\r]*$/.test(each));
      // Of a line that is too large only that it is too large, and how it begins, has to be right.
      const seen = ({ line, text: each }: { line: number; text: string }) =>
        Buffer.byteLength(each) > MAX_EVENT_BYTES
          ? { line, tooLarge: true, text: each.slice(0, 1024) }
          : { line, text: each };
      expect(isDeepStrictEqual(found.map(seen), expected.map(seen))).toBe(true);
    }),
    { numRuns: 200 },
  );
});

test('what came before a stream breaks off is given', async () => {
  const found: number[] = [];
  async function* chunks() {
    yield Buffer.from('one\ntwo\nthr');
    throw new Error('the line went dead');
  }
  const reading = (async () => {
    for await (const block of blocksOf(chunks())) eachLine(block, (_, __, line) => found.push(line));
  })();
  await expect(reading).rejects.toThrow('the line went dead');
  expect(found).toEqual([1, 2, 3]);
});
