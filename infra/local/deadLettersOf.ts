import * as z from 'zod';
import type { DeadLetter, DeadLetters } from '../../functions/api/deadLetters.ts';
import type { LocalQueue } from './queue.ts';
import { allOf, type Queues } from './queues.ts';

const ofCompany = z.object({ companyId: z.string() });

/** The dead letters of all queues, by the company that their message names. */
export function deadLettersOf(all: Queues): DeadLetters {
  const ofQueue = async (queue: LocalQueue, companyId: string) => {
    const letters: DeadLetter[] = [];
    for await (const letter of queue.dead.all()) {
      if (companyOf(letter.body) === companyId) letters.push({ ...letter, queue: queue.name });
    }
    return letters;
  };
  const queues = allOf(all);
  return {
    async list({ companyId }) {
      return (await Promise.all(queues.map((queue) => ofQueue(queue, companyId)))).flat();
    },
    async sendAgain({ companyId }) {
      const sent = queues.map(async (queue) => {
        const letters = await ofQueue(queue, companyId);
        return queue.sendAgain(letters.map(({ id }) => id));
      });
      return (await Promise.all(sent)).reduce((sum, count) => sum + count, 0);
    },
  };
}

function companyOf(body: string): string | undefined {
  try {
    return ofCompany.safeParse(JSON.parse(body)).data?.companyId;
  } catch {
    return undefined; // It is no message of ours, which may be why it is here.
  }
}
