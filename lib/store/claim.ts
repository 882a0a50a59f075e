import type { Instant } from '../../shared/time/instant.ts';
import type { UnitRef } from './store.ts';

/** The right of one meter to be given a certificate as that of a unit, once. Its code is not kept, only a hash of it. */
export interface Claim extends UnitRef {
  readonly codeHash: string;
  readonly expiresAt: Instant;
  /** When it was used, and for which key: a hash of the public key that the certificate is for. Null before. */
  readonly used: { readonly at: Instant; readonly keyHash: string } | null;
}
