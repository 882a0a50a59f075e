import type { Context } from 'aws-lambda';
import type { CloudLog } from './cloudLog.ts';

/** The entry of a function: what it logs names the invocation. */
export function entry<Event, Answer>(
  { log }: { readonly log: CloudLog },
  handler: (event: Event, context: Context) => Promise<Answer>,
): (event: Event, context: Context) => Promise<Answer> {
  return async (event, context) => {
    log.of(context);
    return handler(event, context);
  };
}
