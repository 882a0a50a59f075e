import { setTimeout as pause } from 'node:timers/promises';
import { SendMessageBatchCommand, type SQSClient } from '@aws-sdk/client-sqs';
import { atOnce } from '../../../functions/atOnce.ts';
import type { Outlet } from '../../../functions/ports.ts';
import { callsOf, MOST_BYTES } from './sqsCalls.ts';
import { type SqsMessage, sqsMessage } from './sqsMessage.ts';

/** Thrown where not all messages were taken; those that were may be sent again, as all may come twice. */
class OutletError extends Error {
  readonly code: 'too-large' | 'refused' | 'not-taken';

  constructor(code: OutletError['code'], message: string, options: ErrorOptions = {}) {
    super(message, options);
    this.code = code;
  }
}

export interface OutletOptions {
  readonly client: Pick<SQSClient, 'send'>;
  readonly url: string;
  readonly fifo: boolean;
  readonly pause?: (milliseconds: number) => Promise<unknown>;
}

/** Ten thousand events of one request are a thousand calls. */
const CALLS_AT_ONCE = 16;
/** How often what a call did not take is sent again, and how long after, milliseconds; each time twice as long. */
const TRIES = 5;
const PAUSE_MS = 50;

/**
 * The sending end of a queue of Amazon SQS. Messages of one group are taken one after another, even where calls are taken
 * in part. A call that fails as a whole has been tried anew by the client already.
 */
export function sqsOutlet({ client, url, fifo, pause: wait = pause }: OutletOptions): Outlet {
  /** Sends messages in one call; returns those that were not taken. */
  const call = async (messages: readonly SqsMessage[]): Promise<Set<SqsMessage>> => {
    const Entries = messages.map(({ entry }, index) => ({ ...entry, Id: String(index) }));
    const { Failed = [] } = await client.send(new SendMessageBatchCommand({ QueueUrl: url, Entries }));
    const refused = Failed.find(({ SenderFault }) => SenderFault);
    if (refused) throw new OutletError('refused', `the queue refuses a message: ${refused.Message}`);
    return new Set(Failed.flatMap(({ Id }) => messages[Number(Id)] ?? []));
  };

  return {
    async send(outgoing) {
      const messages = outgoing.map((each) => sqsMessage(each, { fifo }));
      const largest = Math.max(0, ...messages.map(({ bytes }) => bytes));
      if (largest > MOST_BYTES) {
        throw new OutletError(
          'too-large',
          `a message of ${largest} bytes is too large for a queue: split it`,
        );
      }
      let lanes = lanesOf(messages);
      for (let fruitless = 0; lanes.length > 0; ) {
        const failed = await atOnce(CALLS_AT_ONCE, callsOf(lanes), call);
        const waiting = new Set(failed.flatMap((each) => [...each]));
        fruitless = waiting.size < lanes.length ? 0 : fruitless + 1;
        if (fruitless === TRIES) {
          throw new OutletError(
            'not-taken',
            `the queue did not take ${waiting.size} messages: send them again`,
          );
        }
        if (waiting.size > 0) await wait(PAUSE_MS * 2 ** fruitless * (0.5 + Math.random() / 2));
        lanes = lanes
          .map((lane) => (lane[0] && waiting.has(lane[0]) ? lane : lane.slice(1)))
          .filter(({ length }) => length > 0);
      }
    },
  };
}

/** Messages that wait for one another, in their order: those of one group. */
function lanesOf(messages: readonly SqsMessage[]): (readonly SqsMessage[])[] {
  const groups = new Map<string | SqsMessage, SqsMessage[]>();
  for (const message of messages) {
    const lane = message.entry.MessageGroupId ?? message;
    const others = groups.get(lane);
    if (others) others.push(message);
    else groups.set(lane, [message]);
  }
  return [...groups.values()];
}
