import { randomBytes } from 'node:crypto';

/**
 * Letters and digits that people do not mistake for each other (Crockford, "Base 32", crockford.com/base32.html): a code may
 * have to be read off a label.
 */
const LETTERS = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
const LENGTH = 20;
const GROUP = /.{4}(?=.)/g;

/** A new code of 100 random bits, in groups of four: nobody guesses it, so that no slow hash is needed. */
export function newClaimCode(): string {
  // Of 256 values each of the 32 letters gets as many.
  const letters = [...randomBytes(LENGTH)].map((byte) => LETTERS[byte % LETTERS.length]);
  return letters.join('').replace(GROUP, '$&-');
}

/**
 * The letters of a code, however it was typed: small letters, other groups, O for 0, I or L for 1. A hash of them is what is
 * kept. Undefined if it can be no code.
 */
export function lettersOf(code: string): string | undefined {
  const letters = code.toUpperCase().replaceAll('O', '0').replace(/[IL]/g, '1').replace(/[\s-]/g, '');
  return /^[0-9A-HJKMNP-TV-Z]{20}$/.test(letters) ? letters : undefined;
}
