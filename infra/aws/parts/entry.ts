import type { Logger } from '@aws-lambda-powertools/logger';
import type { Context } from 'aws-lambda';

/** The entry of a function: what it logs names the invocation. */
export function entry<Event, Answer>(
  { log }: { readonly log: Logger },
  handler: (event: Event, context: Context) => Promise<Answer>,
): (event: Event, context: Context) => Promise<Answer> {
  return async (event, context) => {
    log.addContext(context);
    return handler(event, context);
  };
}
