import { DescribeEndpointCommand, type IoTClient } from '@aws-sdk/client-iot';
import { lettersOf, newClaimCode } from '../../../functions/meters/claimCode.ts';
import type { Credentials } from '../../../functions/meters/credentials.ts';
import { hashOf } from '../../../functions/secrets.ts';
import type { Store } from '../../../lib/store/store.ts';
import { topicOf } from '../../../shared/credential.ts';
import { thingNameOf } from '../../../shared/thingName.ts';
import { formatInstant, type Instant } from '../../../shared/time/instant.ts';
import { later } from './later.ts';
import { thingCertificates } from './thingCertificates.ts';

/** From when a label is printed until its meter is installed. A guess, no source. */
const CLAIM_LASTS_MS = 90 * 86_400_000;

export interface ThingCredentialsOptions {
  readonly client: Pick<IoTClient, 'send'>;
  readonly store: Pick<Store, 'putClaim' | 'claim' | 'dropClaim'>;
  readonly now: () => Instant;
  /** The provisioning template by which meters claim. */
  readonly template: string;
}

/**
 * Credentials where AWS IoT Core is the broker: a code that is given out once, for which the function `admit` lets the meter
 * have a certificate of its own. The certificate before works until then.
 */
export function thingCredentials({ client, store, now, template }: ThingCredentialsOptions): Credentials {
  const certificates = thingCertificates(client);
  /** Where the broker is does not change; it is asked for once, unless it cannot be told. */
  const whereBrokerIs = later(() => endpointOf(client));
  return {
    async has(unit) {
      const claim = await store.claim(unit);
      const isOpen = claim !== undefined && claim.used === null && now() < claim.expiresAt;
      return isOpen || certificates.any(thingNameOf(unit));
    },
    async issue({ companyId, unitId }) {
      const thingName = thingNameOf({ companyId, unitId });
      const broker = await whereBrokerIs();
      const claimCode = newClaimCode();
      const expiresAt = now() + CLAIM_LASTS_MS;
      const codeHash = hashOf(lettersOf(claimCode) ?? '');
      await store.putClaim({ companyId, unitId, codeHash, expiresAt, used: null });
      return {
        ...{ kind: 'claim', companyId, unitId, claimCode, expiresAt: formatInstant(expiresAt) },
        ...{ template, endpoint: broker, thingName, topic: topicOf(unitId) },
      };
    },
    async revoke(unit) {
      // First the code: a meter that is about to use it would get a certificate after the others are gone.
      await store.dropClaim(unit);
      await certificates.revoke(thingNameOf(unit));
    },
  };
}

/** Amazon's own certificate authority signs for this one, which current devices trust (Developer Guide, "Server authentication"). */
async function endpointOf(client: Pick<IoTClient, 'send'>): Promise<string> {
  const { endpointAddress } = await client.send(
    new DescribeEndpointCommand({ endpointType: 'iot:Data-ATS' }),
  );
  if (endpointAddress === undefined) throw new Error('AWS IoT Core tells no endpoint of this account');
  return endpointAddress;
}
