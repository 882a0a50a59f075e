import { createHash } from 'node:crypto';

/** 32 hexadecimal digits that tell some text from any other. */
export function digestOf(pieces: Iterable<string>): string {
  const hash = createHash('sha256');
  for (const piece of pieces) hash.update(piece);
  return hash.digest('hex').slice(0, 32);
}
