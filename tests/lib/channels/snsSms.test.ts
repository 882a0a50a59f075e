import { SNSClient } from '@aws-sdk/client-sns';
import { expect, test } from 'vitest';
import { snsSms } from '../../../lib/channels/snsSms.ts';
import { httpPeer } from './peers.ts';

/**
 * Code, fault and HTTP status as the Amazon SNS API reference has them, and what they mean to us. `Throttling` is from
 * memory, unverified.
 */
const ERRORS = [
  ['InvalidParameter', 'Sender', 400, 'refused'],
  ['AuthorizationError', 'Sender', 403, 'refused'],
  ['Throttled', 'Sender', 429, 'busy'],
  ['Throttling', 'Sender', 400, 'busy'],
  ['ThrottlingException', 'Sender', 400, 'busy'],
  ['InternalError', 'Receiver', 500, 'unreachable'],
] as const;

test('what SNS answers is told as a failure of ours', async () => {
  const told: unknown[] = [];
  for (const [code, type, status] of ERRORS) {
    const text = `<ErrorResponse><Error><Type>${type}</Type><Code>${code}</Code><Message>no</Message></Error></ErrorResponse>`;
    const peer = await httpPeer({
      take: () => ({ id: undefined, to: '', text: '' }),
      answer: () => ({ status, text }),
    });
    const client = new SNSClient({
      endpoint: `http://127.0.0.1:${peer.port}`,
      region: 'local',
      credentials: { accessKeyId: 'a', secretAccessKey: 'b' },
      maxAttempts: 1,
    });
    const message = { to: '+15005550006', text: 'words', key: 'k', signal: AbortSignal.timeout(5_000) };
    await snsSms(client)
      .send(message)
      .catch((error) => told.push([code, type, status, error.code]));
    client.destroy();
    await peer.close();
  }
  expect(told).toEqual(ERRORS);
});
