import fc from 'fast-check';
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { mailCarrier } from '../../../lib/channels/mail.ts';
import { anyNotice, noticeWith } from './notices.ts';
import { mailPeer, type Peer } from './peers.ts';

let peer: Peer;

beforeAll(async () => {
  peer = await mailPeer();
});
beforeEach(() => {
  peer.taken.length = 0;
});
afterAll(() => peer.close());

function carrier() {
  return mailCarrier({
    smtpUrl: `smtp://127.0.0.1:${peer.port}`,
    from: 'Brinebell <alerts@brinebell.example>',
    domain: 'brinebell.example',
  });
}

/** The names of a message's headers as they came over the wire. */
function headersOf(text: string): string[] {
  const [head = ''] = text.split('\r\n\r\n');
  return head
    .split('\r\n')
    .filter((line) => !/^[ \t]/.test(line))
    .map((line) => line.slice(0, line.indexOf(':')));
}

test('a mail has the headers that it is to have and no other, whatever the data say', async () => {
  const { send } = carrier();
  await fc.assert(
    fc.asyncProperty(anyNotice, async (notice) => {
      await send(notice, { type: 'mail', to: 'a@acme.example' }, 'an-id', 5_000);
      const { text = '', to } = peer.taken.at(-1) ?? {};
      expect(to).toBe('a@acme.example');
      expect(headersOf(text).sort()).toEqual([
        'Auto-Submitted',
        'Content-Transfer-Encoding',
        'Content-Type',
        'Date',
        'From',
        'MIME-Version',
        'Message-ID',
        'Subject',
        'To',
      ]);
    }),
    { numRuns: 25 },
  );
});

test('an address is one address: what would make more of it is refused', async () => {
  const { send } = carrier();
  const more = [
    'a@acme.example, b@acme.example',
    'a@acme.example\r\nBcc: b@acme.example',
    'a@acme.example>,<b@acme.example',
  ];
  for (const to of more) {
    const sent = send(noticeWith(), { type: 'mail', to }, 'an-id', 5_000);
    await expect(sent, to).rejects.toMatchObject({ code: 'refused', permanent: true });
  }
  expect(peer.taken).toEqual([]);
});
