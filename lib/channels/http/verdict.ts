import { ChannelError } from '../errors.ts';
import type { PostAnswer } from './post.ts';

/**
 * Statuses by which a request may be sent again although they are the client's: 408 too slow, 409 the same id is
 * being worked on, 425 too early, 429 too many.
 */
const AGAIN = new Set([408, 409, 425, 429]);

/**
 * What an answer means: nothing if the message was taken (2xx), else what to throw. 5xx may do better later; a
 * redirect is not followed, so that it is as final as any other refusal.
 */
export function verdictOn({ status, retryAfter }: PostAnswer, now: number): ChannelError | undefined {
  if (status >= 200 && status < 300) return undefined;
  const answered = `the webhook answered ${status}`;
  if (status >= 500 || AGAIN.has(status)) {
    return new ChannelError('busy', answered, { retryAfterMs: millisecondsOf(retryAfter, now) });
  }
  return new ChannelError('refused', status < 400 ? `${answered}: give the URL that it leads to` : answered);
}

/** `Retry-After`: whole seconds, or a date (RFC 9110, section 10.2.3). Anything else asks for nothing. */
function millisecondsOf(retryAfter: string | undefined, now: number): number | undefined {
  if (retryAfter === undefined) return undefined;
  if (/^\d{1,9}$/.test(retryAfter)) return Number(retryAfter) * 1000;
  const until = Date.parse(retryAfter);
  return Number.isNaN(until) ? undefined : Math.max(0, until - now);
}
