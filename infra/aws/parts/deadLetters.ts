import type { Message } from '@aws-sdk/client-sqs';
import * as z from 'zod';
import type { DeadLetter, DeadLetters } from '../../../functions/api/deadLetters.ts';
import type { Outlet } from '../../../functions/ports.ts';
import type { QueueSpec } from '../../topology.ts';
import type { DeadQueue } from './deadQueue.ts';

/** A queue, and where its dead letters are. */
export interface Watched {
  readonly name: string;
  readonly spec: Pick<QueueSpec, 'maxReceives'>;
  readonly dead: DeadQueue;
  readonly outlet: Outlet;
}

/** More than anybody reads; who looks again after mending sees the rest. */
const MOST = 1_000;
/** Of the ten seconds that a request has. */
const WITHIN_MS = 6_000;

const ofCompany = z.object({ companyId: z.string() });

/**
 * The dead letters of queues of Amazon SQS, by the company that their message names. They can be looked at only by taking
 * them for a moment: who looks at the same moment may see but a part. Of a unit of which there are many, `assess` shows
 * the first ten until those are gone.
 */
export function deadLettersOf(queues: readonly Watched[]): DeadLetters {
  /** Does something with those of a company, page by page, and shows all others again. */
  const each = async (
    { dead }: Watched,
    companyId: string,
    work: (messages: readonly Message[]) => Promise<'keep' | 'gone'>,
  ) => {
    const kept: Message[] = [];
    try {
      for await (const page of dead.look(MOST, Date.now() + WITHIN_MS)) {
        kept.push(...page);
        const theirs = page.filter(({ Body }) => companyOf(Body) === companyId);
        if (theirs.length === 0 || (await work(theirs)) === 'keep') continue;
        const gone = new Set(theirs);
        kept.splice(0, kept.length, ...kept.filter((message) => !gone.has(message)));
      }
    } finally {
      await dead.show(kept);
    }
  };

  return {
    async list({ companyId }) {
      const lists = queues.map(async (queue) => {
        const letters: DeadLetter[] = [];
        await each(queue, companyId, async (messages) => {
          letters.push(...messages.map((message) => letterOf(queue, message)));
          return 'keep';
        });
        return letters;
      });
      return (await Promise.all(lists)).flat();
    },
    async sendAgain({ companyId }) {
      const counts = queues.map(async (queue) => {
        let sent = 0;
        await each(queue, companyId, async (messages) => {
          // Sent before they are deleted: what is cut off between the two comes twice, and is not lost.
          await queue.outlet.send(
            messages.map(({ Body = '', Attributes }) => ({ body: Body, group: Attributes?.MessageGroupId })),
          );
          await queue.dead.delete(messages);
          sent += messages.length;
          return 'gone';
        });
        return sent;
      });
      return (await Promise.all(counts)).reduce((sum, count) => sum + count, 0);
    },
  };
}

function letterOf({ name, spec }: Watched, { MessageId = '', Body = '', Attributes }: Message): DeadLetter {
  return {
    id: MessageId,
    queue: name,
    body: Body,
    // Its own count goes on while people look at it.
    receives: spec.maxReceives,
    reason: `reported by ${name}, whose log says why`,
    // When it was parked is not told, but when it was sent.
    parkedAt: Number(Attributes?.SentTimestamp ?? 0),
  };
}

function companyOf(body = ''): string | undefined {
  try {
    return ofCompany.safeParse(JSON.parse(body)).data?.companyId;
  } catch {
    return undefined; // It is no message of ours, which may be why it is here.
  }
}
