import type { IoTPreProvisioningHookEvent } from 'aws-lambda';
import { describe, expect, it, test } from 'vitest';
import { admit } from '../../../functions/meters/admit.ts';
import { lettersOf, newClaimCode } from '../../../functions/meters/claimCode.ts';
import { hashOf } from '../../../functions/secrets.ts';
import { memoryStore } from '../../support/memoryStore.ts';
import { noLog } from '../../support/pipeline.ts';
import { CERTIFICATES } from './certificates.ts';

const NOW = Date.UTC(2026, 2, 20, 12);
const MINUTE = 60_000;
const UNIT = { companyId: 'fenwick.water', unitId: 'u.17' };
const CODE = '7K4M-9QXD-R2TV-0HJW-3NP1';

/**
 * The members of the object that AWS IoT Core sends (Developer Guide, "Pre-provisioning hooks", "Pre-provision hook input");
 * the parameters are those of our template.
 */
function event(
  certificate: keyof typeof CERTIFICATES,
  parameters: Record<string, string> = {},
  over: Partial<IoTPreProvisioningHookEvent> = {},
): IoTPreProvisioningHookEvent {
  return {
    claimCertificateId: 'c1a1'.repeat(16),
    certificateId: idOf(certificate),
    certificatePem: CERTIFICATES[certificate],
    templateArn: 'arn:aws:iot:us-east-1:1234567890:provisioningtemplate/MyTemplate',
    clientId: '221a6d10-9c7f-42f1-9153-e52e6fc869c1',
    parameters: { CompanyId: UNIT.companyId, UnitId: UNIT.unitId, ClaimCode: CODE, ...parameters },
    ...over,
  };
}

function idOf(certificate: keyof typeof CERTIFICATES): string {
  return hashOf(certificate);
}

/** The function, with a claim open for an hour. */
async function door() {
  const store = memoryStore();
  const clock = { now: NOW };
  /** Those that the thing has; a working one is taken up when its meter is let in. */
  const attached = ['before'];
  const handler = admit({
    store,
    certificates: {
      any: async () => attached.length > 0,
      revoke: async (thing, except) => {
        expect(thing).toBe('fenwick:-water:u:-17');
        attached.splice(0, attached.length, ...attached.filter((id) => id === except));
      },
    },
    now: () => clock.now,
    log: noLog,
  });
  const claim = {
    ...{ ...UNIT, codeHash: hashOf(lettersOf(CODE) ?? ''), expiresAt: NOW + 60 * MINUTE, used: null },
  };
  await store.putClaim(claim);
  /** Whether a meter is let in. */
  const knock = async (...given: Parameters<typeof event>) => {
    const asked = event(...given);
    const { allowProvisioning } = await handler(asked);
    if (allowProvisioning) attached.push(asked.certificateId);
    return allowProvisioning;
  };
  return { store, clock, attached, handler, claim, knock };
}

describe('a meter', () => {
  it('is let in with its code, under the name that is its unit’s, and what it had before is revoked', async () => {
    const { handler, attached, store } = await door();
    // Source of the answer's members: the same page, "Pre-provision hook return value".
    expect(await handler(event('first', { ThingName: 'another:u-1' }))).toEqual({
      allowProvisioning: true,
      parameterOverrides: {
        ThingName: 'fenwick:-water:u:-17',
        CompanyId: 'fenwick.water',
        UnitId: 'u.17',
      },
    });
    expect(attached).toEqual([]);
    expect(await store.claim(UNIT)).toMatchObject({ used: { at: NOW } });
  });

  it('is let in however its code is typed', async () => {
    const { knock } = await door();
    expect(await knock('first', { ClaimCode: ' 7k4m9qxdr2tvohjw 3npI' })).toBe(true);
  });

  it('is let in again for a quarter of an hour, with its key, and has one certificate in the end', async () => {
    const { knock, clock, attached } = await door();
    expect(await knock('first')).toBe(true);
    clock.now += 15 * MINUTE;
    expect(await knock('first')).toBe(true);
    expect(await knock('firstAgain')).toBe(true);
    expect(attached).toEqual([idOf('firstAgain')]);
    clock.now += 1;
    expect(await knock('first')).toBe(false);
    expect(attached).toEqual([idOf('firstAgain')]);
  });

  it('that finds a code used by another is not let in, and nothing of the other is revoked', async () => {
    const { knock, attached } = await door();
    expect(await knock('first')).toBe(true);
    expect(await knock('second')).toBe(false);
    expect(attached).toEqual([idOf('first')]);
  });

  it('is let in alone where two come at the same moment', async () => {
    for (let round = 0; round < 20; round++) {
      const { knock, attached } = await door();
      const [first, second] = await Promise.all([knock('first'), knock('second')]);
      expect([first, second].filter((isIn) => isIn)).toHaveLength(1);
      expect(attached).toContain(idOf(first ? 'first' : 'second'));
    }
  });

  it.each([
    ['a wrong code', { ClaimCode: newClaimCode() }],
    ['its code for another unit', { UnitId: 'u.18' }],
    ['its code for another company', { CompanyId: 'fenwick' }],
    ['no code', { ClaimCode: '' }],
    ['no id', { UnitId: '../u.17' }],
  ])('with %s is not let in, and nothing changes', async (_, parameters) => {
    const { knock, store, claim, attached } = await door();
    expect(await knock('first', parameters)).toBe(false);
    expect(await store.claim(UNIT)).toEqual(claim);
    expect(attached).toEqual(['before']);
  });

  it('without a certificate, or without anything, is not let in', async () => {
    const { knock, handler } = await door();
    expect(await knock('first', {}, { certificatePem: 'no certificate' })).toBe(false);
    expect(await knock('first', {}, { certificateId: 'short' })).toBe(false);
    expect((await handler({ ...event('first'), parameters: {} })).allowProvisioning).toBe(false);
  });

  it('that comes too late, or after its code was dropped or replaced, is not let in', async () => {
    const { knock, store, clock, claim } = await door();
    clock.now = claim.expiresAt;
    expect(await knock('first')).toBe(false);
    clock.now -= 1;
    await store.putClaim({ ...claim, codeHash: hashOf('another') });
    expect(await knock('first')).toBe(false);
    await store.dropClaim(UNIT);
    expect(await knock('first')).toBe(false);
    await store.putClaim(claim);
    expect(await knock('first')).toBe(true);
  });

  it('is not told that it is let in while what it had before cannot be revoked; it asks again', async () => {
    const { store, claim } = await door();
    let fails = true;
    const handler = admit({
      ...{ store, now: () => NOW, log: noLog },
      certificates: {
        any: async () => true,
        revoke: async () => {
          if (fails) throw new Error('throttled');
        },
      },
    });
    await expect(handler(event('first'))).rejects.toThrow('throttled');
    fails = false;
    expect((await handler(event('first'))).allowProvisioning).toBe(true);
    expect(claim.used).toBeNull();
  });
});

test('codes are in groups of four, differ, and come back to their letters', () => {
  const codes = new Set(Array.from({ length: 1000 }, newClaimCode));
  expect(codes.size).toBe(1000);
  const letters = new Set<string>();
  for (const code of codes) {
    expect(code).toMatch(/^([0-9A-HJKMNP-TV-Z]{4}-){4}[0-9A-HJKMNP-TV-Z]{4}$/);
    expect(lettersOf(code.toLowerCase())).toBe(code.replaceAll('-', ''));
    for (const letter of code.replaceAll('-', '')) letters.add(letter);
  }
  // Each of 32 letters among 20,000: that one is missing has a chance below 1e-270.
  expect(letters.size).toBe(32);
  for (const none of ['', 'U'.repeat(20), '7K4M', `${CODE}7`]) expect(lettersOf(none)).toBeUndefined();
});
