import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { expect, test } from 'vitest';
import { toTtf } from '../../../lib/brief/pdf/toTtf.ts';

const require = createRequire(import.meta.url);

/** The checksum of a table: the sum of its 32-bit words (OpenType 1.9, "Calculating checksums"). */
function checksumOf(ttf: DataView, tag: string, offset: number, length: number): number {
  let sum = 0;
  for (let at = offset; at < offset + length; at += 4) {
    // In the head table the word at 8 is that of the whole file, and counts as nothing.
    if (tag !== 'head' || at !== offset + 8) sum = (sum + ttf.getUint32(at)) >>> 0;
  }
  return sum;
}

test.each([
  '@fontsource/noto-sans/files/noto-sans-latin-400-normal.woff',
  '@fontsource/noto-sans-arabic/files/noto-sans-arabic-arabic-400-normal.woff',
])('every table of %s comes out as its checksum says', async (name) => {
  const bytes = await toTtf(readFileSync(require.resolve(name)));
  const ttf = new DataView(bytes.buffer);
  const count = ttf.getUint16(4);
  expect(count).toBeGreaterThan(8);
  for (let entry = 12; entry < 12 + 16 * count; entry += 16) {
    const tag = String.fromCharCode(...bytes.subarray(entry, entry + 4));
    const [checksum, offset, length] = [4, 8, 12].map((at) => ttf.getUint32(entry + at));
    expect(offset ?? 0).toSatisfy((place: number) => place % 4 === 0);
    expect(checksumOf(ttf, tag, offset ?? 0, length ?? 0), tag).toBe(checksum);
  }
});
