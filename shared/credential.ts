import * as z from 'zod';
import { instantSchema } from './time/instantSchema.ts';

const topic = z.string().describe('What the meter publishes its events on');

const passwordSchema = z.object({
  kind: z.literal('password'),
  username: z.string(),
  password: z.string().describe('Shown this once, and not kept'),
  topic,
});

const claimSchema = z.object({
  kind: z.literal('claim'),
  companyId: z.string(),
  unitId: z.string(),
  claimCode: z.string().describe('Shown this once, and not kept. Gets the meter one certificate'),
  expiresAt: instantSchema.describe('Until when the code can be used'),
  template: z.string().describe('The provisioning template that the code goes to'),
  endpoint: z.string().describe('The host of the broker, MQTT over TLS on port 8883'),
  thingName: z.string().describe('The MQTT client id of the meter, once it has its certificate'),
  topic,
});

/**
 * What the meter of a unit needs to sign in: a user name and password where the broker asks for those, or a code to claim
 * a certificate with where it asks for certificates.
 */
export const credentialSchema = z.discriminatedUnion('kind', [passwordSchema, claimSchema]);

export type Credential = z.infer<typeof credentialSchema>;

/** The topic on which the meter of a unit publishes. */
export function topicOf(unitId: string): string {
  return `units/${unitId}/events`;
}
