import {
  DetachThingPrincipalCommand,
  type IoTClient,
  ListThingPrincipalsCommand,
  ResourceNotFoundException,
  UpdateCertificateCommand,
} from '@aws-sdk/client-iot';
import type { ThingCertificates } from '../../../functions/meters/admit.ts';

/** The ARN of a certificate of AWS IoT Core (Service Authorization Reference, "Resource types defined by AWS IoT"). */
const CERTIFICATE = /^arn:[^:]+:iot:[^:]*:[^:]*:cert\/([0-9a-fA-F]{64})$/;

/**
 * The certificates that AWS IoT Core holds of meters. One that is revoked signs in no more, and whoever is connected with it
 * is cut off within a few minutes (API Reference, "UpdateCertificate").
 */
export function thingCertificates(client: Pick<IoTClient, 'send'>): ThingCertificates {
  return {
    async any(thingName) {
      return (await attachedTo(client, thingName)).length > 0;
    },
    async revoke(thingName, except) {
      for (const { id, arn } of await attachedTo(client, thingName)) {
        if (id === except) continue;
        // First what counts. What breaks off here is still attached, and found when it is asked for again.
        await client.send(new UpdateCertificateCommand({ certificateId: id, newStatus: 'REVOKED' }));
        await orGone(client.send(new DetachThingPrincipalCommand({ thingName, principal: arn })));
      }
    },
  };
}

async function attachedTo(client: Pick<IoTClient, 'send'>, thingName: string) {
  const found: { id: string; arn: string }[] = [];
  let nextToken: string | undefined;
  do {
    const page = await orGone(client.send(new ListThingPrincipalsCommand({ thingName, nextToken })));
    for (const arn of page?.principals ?? []) {
      const [, id] = CERTIFICATE.exec(arn) ?? [];
      if (id !== undefined) found.push({ id, arn });
    }
    nextToken = page?.nextToken;
  } while (nextToken !== undefined);
  return found;
}

/** The answer, or undefined where what was asked about is not there (any more). */
async function orGone<Answer>(asked: Promise<Answer>): Promise<Answer | undefined> {
  try {
    return await asked;
  } catch (error) {
    if (error instanceof ResourceNotFoundException) return undefined;
    throw error;
  }
}
