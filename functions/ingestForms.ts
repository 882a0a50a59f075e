import type { SQSRecord } from 'aws-lambda';
import * as z from 'zod';
import { once } from '../shared/once.ts';
import { ThingNameError, unitOfThing } from '../shared/thingName.ts';
import { lineOf } from './lineOf.ts';
import type { ReceivedMessage } from './messages.ts';
import { MessageError, readReceived } from './plainMessages.ts';

/** What a meter published through AWS IoT Core, and who the broker says it is. */
interface Published {
  readonly payload: string;
  readonly thing: string;
  /** The unit in the topic. */
  readonly topicOf: string;
  readonly receivedAt: number;
}

/**
 * What the rule sends (infra/aws/stacks/meterRule.ts): the payload in base64, since it may be no JSON; the client id, which
 * the policy of meters lets be nothing but the name of the thing; the second segment of the topic. The certificate, too,
 * for whoever looks into what came.
 */
const byRule = once(() =>
  z
    .object({ data: z.base64(), thing: z.string(), unitId: z.string(), receivedAt: z.int() })
    .transform(({ data, thing, unitId, receivedAt }, ctx) =>
      received({ payload: data, thing, topicOf: unitId, receivedAt }, ctx),
    ),
);

/**
 * What the rule leaves where its action has failed, put into the queue `ingest` by the operator. When it was received is not
 * in it: the nearest that is known is when the queue was given it.
 *
 * Source of the members: AWS IoT Core, Developer Guide, "Error handling (error action)", "Error action message format".
 */
const byErrorAction = once(() =>
  z
    .object({
      base64OriginalPayload: z.base64(),
      clientId: z.string(),
      topic: z.string().regex(/^units\/[^/]+\/events$/),
      sentAt: z.int(),
    })
    .transform(({ base64OriginalPayload: payload, clientId: thing, topic, sentAt: receivedAt }, ctx) =>
      received({ payload, thing, topicOf: topic.split('/')[1] ?? '', receivedAt }, ctx),
    ),
);

const fromBroker = once(() => z.union([byRule(), byErrorAction()]));

/**
 * The line that a message to `ingest` brings, by whichever way it came.
 *
 * @throws ZodError or SyntaxError if it is none: such a message comes back, and is parked in the end
 */
export function receivedIn({ body, attributes }: Pick<SQSRecord, 'body' | 'attributes'>): ReceivedMessage {
  const message: unknown = JSON.parse(body);
  try {
    return readReceived(message);
  } catch (error) {
    if (!(error instanceof MessageError)) throw error;
    return fromBroker().parse({ ...Object(message), sentAt: Number(attributes.SentTimestamp) });
  }
}

function received({ payload, thing, topicOf, receivedAt }: Published, ctx: z.RefinementCtx): ReceivedMessage {
  try {
    const { companyId, unitId } = unitOfThing(thing);
    const line = lineOf(Buffer.from(payload, 'base64'));
    return { companyId, unitId, receivedAt, line, ...(topicOf !== unitId && { onTopicOf: topicOf }) };
  } catch (error) {
    if (!(error instanceof ThingNameError)) throw error;
    ctx.addIssue({ code: 'custom', path: ['thing'], message: error.message });
    return z.NEVER;
  }
}
