import { createHash, X509Certificate } from 'node:crypto';
import type { IoTPreProvisioningHookEvent, IoTPreProvisioningHookResult } from 'aws-lambda';
import * as z from 'zod';
import type { Claim } from '../../lib/store/claim.ts';
import type { Store } from '../../lib/store/store.ts';
import { idSchema } from '../../shared/ids.ts';
import { thingNameOf } from '../../shared/thingName.ts';
import type { Instant } from '../../shared/time/instant.ts';
import type { Ports } from '../ports.ts';
import { fits } from '../secrets.ts';
import { lettersOf } from './claimCode.ts';

/** The certificates by which a meter can sign in. */
export interface ThingCertificates {
  /** Whether it has any that works. */
  any(thingName: string): Promise<boolean>;
  /**
   * Makes them worthless, for ever, and takes them off the thing; does nothing where there is none.
   *
   * @param except the id of one that is left
   */
  revoke(thingName: string, except?: string): Promise<void>;
}

export interface AdmitPorts {
  readonly store: Pick<Store, 'claim' | 'useClaim'>;
  readonly certificates: ThingCertificates;
  readonly now: () => Instant;
  readonly log: Ports['log'];
}

/** How long the meter that used a code may use it again: it may have been cut off. A guess, no source. */
const GRACE_MS = 15 * 60_000;

const requestSchema = z.object({
  certificateId: z.string().regex(/^[0-9a-f]{64}$/i),
  certificatePem: z.string().max(20_000),
  parameters: z.object({
    CompanyId: idSchema,
    UnitId: idSchema,
    ClaimCode: z.string().max(100).transform(lettersOf),
  }),
});

/** Why a meter is not let in; it is told nothing of it. */
type Refusal = 'request-invalid' | 'claim-unknown' | 'claim-expired' | 'claim-used';

/**
 * The function `admit`: AWS IoT Core asks it before it makes a certificate a meter's (a pre-provisioning hook). A meter is
 * let in with the code that was given out for its unit, once; the same meter, known by its key, also a little later, since
 * it may not have heard the answer. What it is called is said here and not by the meter. Certificates that the unit's meter
 * had before are revoked: a new code is given out where a meter or its key is to be replaced.
 */
export function admit(
  ports: AdmitPorts,
): (event: IoTPreProvisioningHookEvent) => Promise<IoTPreProvisioningHookResult> {
  const { store, certificates, now, log } = ports;
  return async (event) => {
    const refuse = (reason: Refusal): IoTPreProvisioningHookResult => {
      const { clientId, claimCertificateId } = event;
      log.warn('a meter is not let in', { reason, clientId, claimCertificateId });
      return { allowProvisioning: false, parameterOverrides: {} };
    };
    const request = requestSchema.safeParse(event);
    if (!request.success) return refuse('request-invalid');
    const { certificateId, certificatePem, parameters } = request.data;
    const { CompanyId: companyId, UnitId: unitId, ClaimCode: code } = parameters;
    const keyHash = keyHashOf(certificatePem);
    if (keyHash === undefined || code === undefined) return refuse('request-invalid');

    const unit = { companyId, unitId };
    const used = { at: now(), keyHash };
    let claim = await store.claim(unit);
    let verdict = verdictOn(claim, code, used);
    if (claim && verdict === 'good' && !(await store.useClaim(claim, used))) {
      // Somebody was quicker: perhaps the same meter, which asked twice.
      claim = await store.claim(unit);
      verdict = verdictOn(claim, code, used);
      if (verdict === 'good') throw new Error(`the claim of ${unitId} was replaced this moment: ask again`);
    }
    if (verdict !== 'good' && verdict !== 'again') return refuse(verdict);

    const thingName = thingNameOf(unit);
    await certificates.revoke(thingName, certificateId);
    log.info('a meter is let in', { thingName, certificateId, verdict });
    return {
      allowProvisioning: true,
      parameterOverrides: { ThingName: thingName, CompanyId: companyId, UnitId: unitId },
    };
  };
}

function verdictOn(
  claim: Claim | undefined,
  code: string,
  { at, keyHash }: NonNullable<Claim['used']>,
): 'good' | 'again' | Refusal {
  if (!fits(code, claim?.codeHash) || !claim) return 'claim-unknown';
  if (claim.used) {
    const isSame = claim.used.keyHash === keyHash && at <= claim.used.at + GRACE_MS;
    return isSame ? 'again' : 'claim-used';
  }
  return at < claim.expiresAt ? 'good' : 'claim-expired';
}

/** What the meter's key is known by: a hash of the public key in a certificate, which stays where it asks for another. */
function keyHashOf(pem: string): string | undefined {
  try {
    const key = new X509Certificate(pem).publicKey.export({ type: 'spki', format: 'der' });
    return createHash('sha256').update(key).digest('hex');
  } catch {
    return undefined;
  }
}
