import { SESv2Client } from '@aws-sdk/client-sesv2';
import fc from 'fast-check';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { type MailTransport, mailCarrier } from '../../../lib/channels/mail.ts';
import { sesTransport } from '../../../lib/channels/ses.ts';
import { smtpTransport } from '../../../lib/channels/smtp.ts';
import { anyNotice, noticeWith } from './notices.ts';
import { mailPeer, type Peer, sesPeer } from './peers.ts';

interface Way {
  readonly name: string;
  readonly open: () => Promise<Peer>;
  readonly transport: (port: number) => MailTransport;
  /** Headers beside those of any mail. */
  readonly more: readonly string[];
}

const WAYS: readonly Way[] = [
  {
    name: 'a mail server',
    open: mailPeer,
    transport: (port) => smtpTransport(`smtp://127.0.0.1:${port}`),
    more: [],
  },
  {
    name: 'Amazon SES',
    open: sesPeer,
    transport: (port) =>
      sesTransport(
        new SESv2Client({
          endpoint: `http://127.0.0.1:${port}`,
          region: 'local',
          credentials: { accessKeyId: 'a', secretAccessKey: 'b' },
        }),
      ),
    more: ['Original-Message-ID'],
  },
];

/** The names of a message's headers as they came over the wire. */
function headersOf(text: string): string[] {
  const [head = ''] = text.split('\r\n\r\n');
  return head
    .split('\r\n')
    .filter((line) => !/^[ \t]/.test(line))
    .map((line) => line.slice(0, line.indexOf(':')));
}

describe.each(WAYS)('mail by $name', ({ open, transport, more }) => {
  let peer: Peer;

  beforeAll(async () => {
    peer = await open();
  });
  beforeEach(() => {
    peer.taken.length = 0;
  });
  afterAll(() => peer.close());

  function carrier() {
    return mailCarrier({
      transport: transport(peer.port),
      from: 'Brinebell <alerts@brinebell.example>',
      domain: 'brinebell.example',
    });
  }

  test('a mail has the headers that it is to have and no other, whatever the data say', async () => {
    const { send } = carrier();
    const headers = [
      'Auto-Submitted',
      'Content-Transfer-Encoding',
      'Content-Type',
      'Date',
      'From',
      'MIME-Version',
      'Message-ID',
      'Subject',
      'To',
      ...more,
    ].sort();
    await fc.assert(
      fc.asyncProperty(anyNotice, async (notice) => {
        await send(notice, { type: 'mail', to: 'a@acme.example' }, 'an-id', 5_000);
        const { text = '', to } = peer.taken.at(-1) ?? {};
        expect(to).toBe('a@acme.example');
        expect(headersOf(text).sort()).toEqual(headers);
      }),
      { numRuns: 25 },
    );
  });

  test('an address is one address: what would make more of it is refused', async () => {
    const { send } = carrier();
    const severalOrNone = [
      'a@acme.example, b@acme.example',
      'a@acme.example\r\nBcc: b@acme.example',
      'a@acme.example>,<b@acme.example',
    ];
    for (const to of severalOrNone) {
      const sent = send(noticeWith(), { type: 'mail', to }, 'an-id', 5_000);
      await expect(sent, to).rejects.toMatchObject({ code: 'refused', permanent: true });
    }
    expect(peer.taken).toEqual([]);
  });
});
