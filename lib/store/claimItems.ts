import type { Access } from './access.ts';
import type { Claim } from './claim.ts';
import { unlessConflict } from './failures.ts';
import type { Item } from './item.ts';
import { CLAIM, unitKey } from './keys.ts';
import type { Store } from './store.ts';

/** A claim that is over is kept a while longer, so that whoever comes too late is told so, and then goes by itself. */
const KEPT_ON_SECONDS = 7 * 86_400;

/** Claims of meters to a certificate: at most one a unit. */
export function claimItems(access: Access): Pick<Store, 'putClaim' | 'claim' | 'useClaim' | 'dropClaim'> {
  return {
    async putClaim(claim) {
      await access.put('putClaim', itemOf(claim));
    },
    async claim(unit) {
      // Never a moment behind: one that was dropped or used counts no longer.
      const json = (await access.get('claim', unitKey(unit, CLAIM), true))?.json;
      return json === undefined ? undefined : JSON.parse(json);
    },
    async useClaim(claim, used) {
      const before = { expression: 'json = :before', values: { ':before': itemOf(claim).json ?? '' } };
      return unlessConflict(access.put('useClaim', itemOf({ ...claim, used }), before));
    },
    async dropClaim(unit) {
      await access.drop('dropClaim', unitKey(unit, CLAIM));
    },
  };
}

function itemOf({ companyId, unitId, codeHash, expiresAt, used }: Claim): Item {
  // In one order: it is compared as text.
  const claim: Claim = { companyId, unitId, codeHash, expiresAt, used };
  return {
    ...unitKey(claim, CLAIM),
    json: JSON.stringify(claim),
    expiration: Math.ceil(expiresAt / 1000) + KEPT_ON_SECONDS,
  };
}
