import type { SQSRecord } from 'aws-lambda';
import { unitOfThing } from '../shared/thingName.ts';
import { lineOf } from './lineOf.ts';
import type { ReceivedMessage } from './messages.ts';
import { MessageError, readPublished, readReceived } from './plainMessages.ts';

/**
 * The line that a message to `ingest` brings, by whichever way it came: from our own functions, or from the broker.
 *
 * @throws MessageError, ThingNameError or SyntaxError if it is none: such a message comes back, and is parked in the end
 */
export function receivedIn({ body, attributes }: Pick<SQSRecord, 'body' | 'attributes'>): ReceivedMessage {
  const message: unknown = JSON.parse(body);
  try {
    return readReceived(message);
  } catch (error) {
    if (!(error instanceof MessageError)) throw error;
    return fromBroker(message, Number(attributes.SentTimestamp));
  }
}

function fromBroker(message: unknown, sentAt: number): ReceivedMessage {
  const { payload, thing, topicOf, receivedAt } = readPublished(message, sentAt);
  const { companyId, unitId } = unitOfThing(thing);
  const line = lineOf(Buffer.from(payload, 'base64'));
  return { companyId, unitId, receivedAt, line, ...(topicOf !== unitId && { onTopicOf: topicOf }) };
}
