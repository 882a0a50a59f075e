import { setTimeout as pause } from 'node:timers/promises';
import type { Carrier } from './carrier.ts';
import type { WebhookDestination } from './destination.ts';
import { ChannelError } from './errors.ts';
import { addressGuard } from './http/addressGuard.ts';
import { post } from './http/post.ts';
import { signedHeaders } from './http/signature.ts';
import { verdictOn } from './http/verdict.ts';
import { type Surroundings, withRetries } from './http/withRetries.ts';
import { fleetBody } from './text/fleetNotice.ts';
import { webhookBody } from './text/webhook.ts';

export interface WebhookOptions {
  /** Whether webhooks may stand on the machine itself or in a private network; see {@link addressGuard}. */
  readonly privateAddresses: 'allowed' | 'refused';
  /** How long one try may take, milliseconds; 5,000 by default, which leaves time for another within a call. */
  readonly tryMs?: number;
  readonly surroundings?: Partial<Surroundings>;
}

const TRY_MS = 5_000;

/** Carries notices to webhooks by Standard Webhooks 1.0.0; a repeat of one bears the same `webhook-id`. */
export function webhookCarrier(options: WebhookOptions): Carrier<WebhookDestination> {
  const { privateAddresses, tryMs = TRY_MS } = options;
  const surroundings: Surroundings = {
    now: Date.now,
    pause: async (milliseconds) => pause(milliseconds),
    random: Math.random,
    ...options.surroundings,
  };
  const guard = addressGuard(privateAddresses);
  return {
    async send(told, { url, secret }, id, withinMs) {
      const body = 'event' in told ? fleetBody(told) : webhookBody(told);
      const attempt = async (leftMs: number) => {
        // Each try bears its own time: receivers refuse what is old.
        const signed = signedHeaders(secret, id, surroundings.now(), body);
        const headers = { 'content-type': 'application/json', 'user-agent': 'brinebell', ...signed };
        const within = Math.min(tryMs, leftMs);
        const answer = await post(new URL(url), { headers, body, guard, withinMs: within }).catch(unanswered);
        const failure = verdictOn(answer, surroundings.now());
        if (failure) throw failure;
      };
      await withRetries(attempt, withinMs, surroundings);
    },
  };
}

function unanswered(cause: unknown): never {
  if (cause instanceof ChannelError) throw cause;
  const message = cause instanceof Error ? cause.message : String(cause);
  throw new ChannelError('unreachable', `the webhook did not answer: ${message}`, { cause });
}
