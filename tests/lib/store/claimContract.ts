import { expect, test } from 'vitest';
import type { Store } from '../../../lib/store/store.ts';
import { newUnit } from './asking.ts';

/** What every store does for the codes by which meters claim their certificates. */
export function claimContract(store: () => Store) {
  test('a claim is used once, and as it was read', async () => {
    const unit = newUnit();
    const claim = { ...unit, codeHash: 'h', expiresAt: 2_000_000_000_000, used: null };
    const [first, second] = ['key-1', 'key-2'].map((keyHash) => ({ at: 5, keyHash }));
    if (!first || !second) throw new Error('there are two');
    expect(await store().useClaim(claim, first)).toBe(false);
    expect(await store().claim(unit)).toBeUndefined();
    await store().putClaim({ ...claim, codeHash: 'before' });
    await store().putClaim(claim);
    expect(await store().claim(unit)).toEqual(claim);
    const outcomes = await Promise.all([store().useClaim(claim, first), store().useClaim(claim, second)]);
    expect(outcomes.filter((isUsed) => isUsed)).toHaveLength(1);
    const used = outcomes[0] ? first : second;
    expect(await store().claim(unit)).toEqual({ ...claim, used });
    expect(await store().useClaim(claim, first)).toBe(false);
    expect(await store().claim({ ...unit, unitId: 'u-18' })).toBeUndefined();
    await store().dropClaim(unit);
    await store().dropClaim(unit);
    expect(await store().claim(unit)).toBeUndefined();
  });
}
