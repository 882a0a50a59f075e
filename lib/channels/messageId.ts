import { createHash } from 'node:crypto';

/** Of 256 bits, 128 leave two keys no chance to meet. */
const HEX_DIGITS = 32;

/** A short name for a key, the same for the same key: hex digits, so that it can stand in any header. */
export function messageIdOf(key: string): string {
  return createHash('sha256').update(key).digest('hex').slice(0, HEX_DIGITS);
}
