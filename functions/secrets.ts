import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';

/** A new secret of a key or a meter: 32 random bytes as base64url. It is shown once and not kept. */
export function newSecret(): string {
  return randomBytes(32).toString('base64url');
}

/** What is kept of a secret: its SHA-256 in hex. No slow hash is needed, for nobody guesses 256 random bits. */
export function hashOf(secret: string): string {
  return createHash('sha256').update(secret).digest('hex');
}

/** What no secret has for its hash: stands in where there is none, so that an unknown name takes as long as a wrong secret. */
const NO_HASH = '0'.repeat(64);

/** Whether a secret has that hash; takes as long whether it has or not. */
export function fits(secret: string, hash: string | undefined): boolean {
  const kept = Buffer.from(hash ?? NO_HASH);
  const given = Buffer.from(hashOf(secret));
  return kept.length === given.length && timingSafeEqual(kept, given);
}
