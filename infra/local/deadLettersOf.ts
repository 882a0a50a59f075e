import * as z from 'zod';
import type { DeadLetter, DeadLetters } from '../../functions/api/deadLetters.ts';
import type { Queues } from './queues.ts';

const ofCompany = z.object({ companyId: z.string() });

/** The dead letters of all queues, by the company that their message names. */
export function deadLettersOf({ ingest, assess, notify }: Queues): DeadLetters {
  return {
    async list({ companyId }) {
      const letters: DeadLetter[] = [];
      for (const queue of [ingest, assess, notify]) {
        for await (const letter of queue.dead.all()) {
          if (companyOf(letter.body) === companyId) letters.push({ ...letter, queue: queue.name });
        }
      }
      return letters;
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
