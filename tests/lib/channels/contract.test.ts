import { SESv2Client } from '@aws-sdk/client-sesv2';
import { SNSClient } from '@aws-sdk/client-sns';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { Carrier } from '../../../lib/channels/carrier.ts';
import type { Destination } from '../../../lib/channels/destination.ts';
import { ChannelError } from '../../../lib/channels/errors.ts';
import { mailCarrier } from '../../../lib/channels/mail.ts';
import { messageIdOf } from '../../../lib/channels/messageId.ts';
import { sesTransport } from '../../../lib/channels/ses.ts';
import { smsCarrier } from '../../../lib/channels/sms.ts';
import { smtpTransport } from '../../../lib/channels/smtp.ts';
import { snsSms } from '../../../lib/channels/snsSms.ts';
import { webhookCarrier } from '../../../lib/channels/webhook.ts';
import { noticeWith } from './notices.ts';
import { mailPeer, type Peer, sesPeer, snsPeer, webhookPeer } from './peers.ts';

const SECRET = 'whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw';
const LONG_MS = 5_000;
/** Enough for a peer to take what it is sent, however busy the machine, and not too long to be spent in vain. */
const ENOUGH_MS = 1_500;
const SHORT_MS = 400;

/** A channel with its other side; each file of lib/channels that carries is here. */
interface Case {
  readonly name: string;
  readonly open: () => Promise<Peer>;
  /** Takes a notice to a peer that listens on that port of this machine. */
  readonly carrier: (port: number) => (...rest: [id: string, withinMs: number]) => Promise<void>;
  readonly to: string;
  /** What the other side sees of an id. */
  readonly seen: (id: string) => string | undefined;
}

const notice = noticeWith();

function sending<To extends Destination>(carrier: Carrier<To>, to: To) {
  return (id: string, withinMs: number) => carrier.send(notice, to, id, withinMs);
}

/** A client of Amazon's that asks a server on this machine, once. */
function local(port: number) {
  return {
    endpoint: `http://127.0.0.1:${port}`,
    region: 'local',
    credentials: { accessKeyId: 'a', secretAccessKey: 'b' },
    maxAttempts: 1,
  };
}

const CASES: readonly Case[] = [
  {
    name: 'mail',
    open: mailPeer,
    carrier: (port) =>
      sending(
        mailCarrier({
          transport: smtpTransport(`smtp://127.0.0.1:${port}`),
          from: 'Brinebell <alerts@brinebell.example>',
          domain: 'brinebell.example',
        }),
        { type: 'mail', to: 'dispatch@acme.example' },
      ),
    to: 'dispatch@acme.example',
    seen: (id) => `${id}@brinebell.example`,
  },
  {
    name: 'mail by Amazon SES',
    open: sesPeer,
    carrier: (port) =>
      sending(
        mailCarrier({
          transport: sesTransport(new SESv2Client(local(port))),
          from: 'Brinebell <alerts@brinebell.example>',
          domain: 'brinebell.example',
        }),
        { type: 'mail', to: 'dispatch@acme.example' },
      ),
    to: 'dispatch@acme.example',
    seen: (id) => `${id}@brinebell.example`,
  },
  {
    name: 'webhook',
    open: () => webhookPeer(SECRET),
    carrier: (port) =>
      sending(webhookCarrier({ privateAddresses: 'allowed' }), {
        type: 'webhook',
        url: `http://127.0.0.1:${port}/hook`,
        secret: SECRET,
      }),
    to: '/hook',
    seen: (id) => id,
  },
  {
    name: 'sms by Amazon SNS',
    open: snsPeer,
    carrier: (port) =>
      sending(smsCarrier(snsSms(new SNSClient(local(port)))), { type: 'sms', to: '+15005550006' }),
    to: '+15005550006',
    // SNS has no idempotency key for short messages.
    seen: () => undefined,
  },
];

describe.each(CASES)('$name', ({ open, carrier, to, seen }) => {
  let peer: Peer;
  let send: (id: string, withinMs: number) => Promise<void>;

  beforeAll(async () => {
    peer = await open();
    send = carrier(peer.port);
  });
  beforeEach(() => {
    peer.mood = 'takes';
    peer.taken.length = 0;
  });
  afterAll(() => peer.close());

  const id = messageIdOf('acme/u-17/no-flow-1-raised-urgent-1');
  const failure = (withinMs: number) =>
    send(id, withinMs).then(
      () => 'none',
      (error) => (error instanceof ChannelError ? error.code : error),
    );

  it('takes a notice to its destination, with the place to look at', async () => {
    await send(id, LONG_MS);
    expect(peer.taken).toMatchObject([{ to, id: seen(id) }]);
    expect(peer.taken[0]?.text).toContain(notice.link);
  });

  it('bears the same id and words whenever it is sent, and another for another notice', async () => {
    await send(id, LONG_MS);
    await send(id, LONG_MS);
    await send(messageIdOf('another'), LONG_MS);
    const [first, again, other] = peer.taken;
    expect(again?.id).toBe(first?.id);
    expect(withoutDate(again?.text)).toBe(withoutDate(first?.text));
    expect(other?.id).toBe(seen(messageIdOf('another')));
  });

  it('tells a refusal, which is for good, from a peer that is busy', async () => {
    peer.mood = 'refuses';
    expect(await failure(LONG_MS)).toBe('refused');
    peer.mood = 'is busy';
    expect(await failure(ENOUGH_MS)).toBe('busy');
    expect(peer.taken).toEqual([]);
  });

  it('gives a silent peer up', async () => {
    peer.mood = 'is silent';
    expect(await failure(SHORT_MS)).toBe('unreachable');
  });

  it('leaves it open whether a peer has taken what it did not answer, and repeats it under the same id', async () => {
    for (const mood of ['takes and hangs up', 'takes and is silent'] as const) {
      peer.mood = mood;
      expect(await failure(ENOUGH_MS)).toBe('unreachable');
    }
    peer.mood = 'takes';
    await send(id, LONG_MS);
    expect(peer.taken.length).toBeGreaterThanOrEqual(3);
    expect(new Set(peer.taken.map((each) => each.id))).toEqual(new Set([seen(id)]));
  });

  it('cannot reach where nobody listens', async () => {
    const gone = await open();
    await gone.close();
    await expect(carrier(gone.port)(id, SHORT_MS)).rejects.toMatchObject({ code: 'unreachable' });
  });
});

function withoutDate(text = ''): string {
  return text.replace(/^Date: .*$/m, '');
}
