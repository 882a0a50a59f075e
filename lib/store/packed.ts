import { constants, deflateRawSync, inflateRawSync } from 'node:zlib';
import { StoreError } from './errors.ts';
import { TYPICAL_HEAD_2, TYPICAL_HEAD_3, TYPICAL_TEXT_1 } from './typicalText.ts';

/**
 * JSON text made small. The text without its numbers is nearly the same for every unit, and deflates to little with a
 * typical one as its dictionary; the numbers, nearly all of what is left, deflate best by themselves. Any JSON comes
 * back exactly, in a few bytes more where it is not typical.
 *
 * Layout: the version, the length of the first part (2 bytes), the text with its numbers cut to 0, the numbers.
 */
const VERSION = 3;
const HEADER_BYTES = 3;
const MOST_TEXT_BYTES = 0xffff;

/** The dictionary of each version. */
const DICTIONARIES: Readonly<Partial<Record<number, Buffer>>> = {
  1: Buffer.from(TYPICAL_TEXT_1),
  2: Buffer.from(`${TYPICAL_TEXT_1}\n${TYPICAL_HEAD_2}`),
  3: Buffer.from(`${TYPICAL_TEXT_1}\n${TYPICAL_HEAD_3}`),
};
/** A number by what stands around it. Within a string it may find one too: that is cut and put back as well. */
const NUMBER = /(?<=[:,[])-?\d+(?:\.\d+)?(?:e[+-]\d+)?(?=[,\]}])/g;

/** @throws RangeError if it is far larger than an item may be */
export function pack(json: string): Uint8Array {
  const numbers: string[] = [];
  const text = json.replace(NUMBER, (number) => {
    numbers.push(number);
    return '0';
  });
  const textBytes = deflateRawSync(text, { level: 9, dictionary: DICTIONARIES[VERSION] });
  if (textBytes.length > MOST_TEXT_BYTES) throw new RangeError('more than an item can hold');
  const header = [VERSION, textBytes.length >> 8, textBytes.length & 0xff];
  const numberBytes = deflateRawSync(numbers.join(), { level: 9, strategy: constants.Z_FILTERED });
  return Buffer.concat([Buffer.from(header), textBytes, numberBytes]);
}

/** @throws StoreError `refused` if it was packed by a later version */
export function unpack(packed: Uint8Array): string {
  const [version, high = 0, low = 0] = packed;
  const dictionary = DICTIONARIES[version ?? 0];
  if (!dictionary) {
    throw new StoreError(
      'refused',
      `packed as version ${version}, of which this program knows nothing: update it`,
    );
  }
  const end = HEADER_BYTES + (high << 8) + low;
  const text = inflateRawSync(packed.subarray(HEADER_BYTES, end), { dictionary }).toString();
  const numbers = inflateRawSync(packed.subarray(end)).toString().split(',');
  let next = 0;
  return text.replace(NUMBER, () => numbers[next++] ?? '');
}
