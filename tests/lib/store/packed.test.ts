import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { pack, unpack } from '../../../lib/store/packed.ts';
import { TYPICAL_HEAD_2, TYPICAL_HEAD_3, TYPICAL_TEXT_1 } from '../../../lib/store/typicalText.ts';
import { headsOf, outboxOf } from './examples.ts';

test('any JSON comes back as it was, to the letter', () => {
  const numbers = fc.oneof(fc.double({ noNaN: true, noDefaultInfinity: true }), fc.integer());
  const texts = fc.oneof(
    fc.string({ unit: 'binary' }),
    fc.constantFrom('0', ',5,', '[1]', ':0}', '-1e-7,', '"0",'),
  );
  const value = fc.letrec((tie) => ({
    value: fc.oneof(
      { maxDepth: 4 },
      numbers,
      texts,
      fc.constantFrom(null, true),
      tie('list'),
      tie('members'),
    ),
    list: fc.array(tie('value')),
    members: fc.dictionary(texts, tie('value')),
  })).value;
  fc.assert(
    fc.property(value, (each) => {
      const json = JSON.stringify(each);
      expect(unpack(pack(json))).toBe(json);
    }),
    { numRuns: 200 },
  );
});

test('heads and outboxes come back equal', () => {
  const stored = [...['u-17', 'u-18', 'u-19'].flatMap(headsOf), outboxOf('u-19')];
  expect(stored.map((each) => JSON.parse(unpack(pack(JSON.stringify(each)))))).toEqual(stored);
});

test.each([
  ['1', TYPICAL_TEXT_1, '600686fd9bbe7eaa0bdece4c1ed201019086f85fa38e362c758be1591c459b91'],
  ['2', TYPICAL_HEAD_2, 'bd9e22c3c4b9ab4dfd1e64f61beab9dd86454d388a370fc8df915e8c6898af3a'],
  ['3', TYPICAL_HEAD_3, 'ea4f1d6232c253afdc01f7d7dacf39d05d9e8aa8eb7291b2272abb015dd43d9f'],
])('what version %s has packed can be read for ever', (version, text, hash) => {
  // Not what pack makes today, which another zlib may make otherwise: what it made once.
  const file = new URL(`./packed-v${version}.json`, import.meta.url);
  const kept = JSON.parse(readFileSync(file, 'utf8'));
  expect(kept.length).toBeGreaterThan(2);
  for (const { packed, value } of kept) {
    const bytes = Buffer.from(packed, 'base64');
    expect(bytes[0]).toBe(Number(version));
    expect(JSON.parse(unpack(bytes))).toEqual(value);
  }
  // A passage that none of those refers to could change unseen.
  expect(createHash('sha256').update(text).digest('hex')).toBe(hash);
});

test('a later version is refused, not misread', () => {
  const packed = pack('{}');
  packed[0] = 4;
  expect(() => unpack(packed)).toThrow(/version 4/);
});
