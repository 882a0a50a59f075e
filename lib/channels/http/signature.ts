import { createHmac } from 'node:crypto';

/** What a receiver needs to know who sent something and when. */
export interface SignedHeaders {
  readonly 'webhook-id': string;
  readonly 'webhook-timestamp': string;
  readonly 'webhook-signature': string;
}

const BASE64 = 'whsec_';

/**
 * The headers of one try, by Standard Webhooks 1.0.0 (github.com/standard-webhooks/standard-webhooks,
 * spec/standard-webhooks.md, "Signature scheme" and "Webhook headers"): HMAC-SHA256 over `id.timestamp.body`.
 *
 * @param secret as that has it, `whsec_` and base64; of any other text the key is its UTF-8 bytes
 * @param id holds no full stop, so that it cannot be taken for id and timestamp
 * @param at when the try is made, milliseconds; it travels in whole seconds
 */
export function signedHeaders(secret: string, id: string, at: number, body: string): SignedHeaders {
  const timestamp = String(Math.floor(at / 1000));
  const signature = createHmac('sha256', keyOf(secret)).update(`${id}.${timestamp}.${body}`).digest('base64');
  return {
    'webhook-id': id,
    'webhook-timestamp': timestamp,
    'webhook-signature': `v1,${signature}`,
  };
}

function keyOf(secret: string): Buffer {
  return secret.startsWith(BASE64)
    ? Buffer.from(secret.slice(BASE64.length), 'base64')
    : Buffer.from(secret, 'utf8');
}
