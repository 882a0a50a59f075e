import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo, Socket } from 'node:net';
import { SMTPServer } from 'smtp-server';

/** How the other side meets what it is sent. */
export type Mood =
  | 'takes'
  | 'refuses'
  | 'is busy'
  | 'is silent'
  | 'takes and hangs up'
  | 'takes and is silent';

/** Something that the other side has taken. */
export interface Taken {
  readonly id: string | undefined;
  readonly to: string;
  readonly text: string;
}

/** The other side of a channel: a real server on this machine. */
export interface Peer {
  mood: Mood;
  /** What it has taken, in the order in which it came. */
  readonly taken: Taken[];
  readonly port: number;
  close(): Promise<void>;
}

/** What an HTTP service does with a request that it may take: the status and text of each mood. */
interface Answers {
  readonly take: (body: string, request: IncomingMessage) => Taken | Promise<Taken>;
  readonly answer: (mood: 'takes' | 'refuses' | 'is busy') => { status: number; text: string };
}

export async function httpPeer({ take, answer }: Answers): Promise<Peer> {
  const handle = async (request: IncomingMessage, response: ServerResponse) => {
    const chunks: Buffer[] = [];
    for await (const chunk of request) chunks.push(chunk);
    const { mood } = peer;
    if (mood.startsWith('takes')) peer.taken.push(await take(Buffer.concat(chunks).toString(), request));
    if (mood === 'takes and hangs up') return request.socket.destroy();
    if (mood.endsWith('silent')) return;
    const { status, text } = answer(mood as 'takes' | 'refuses' | 'is busy');
    response.writeHead(status, { 'content-type': 'text/xml' }).end(text);
  };
  const server = createServer((request, response) => {
    handle(request, response).catch((error) => response.writeHead(400).end(String(error)));
  });
  const port = await listening(server);
  const peer: Peer = {
    mood: 'takes',
    taken: [],
    port,
    close: () => closed(server, () => server.closeAllConnections()),
  };
  return peer;
}

/** A webhook that believes only what is signed with a secret. */
export function webhookPeer(secret: string): Promise<Peer> {
  return httpPeer({
    async take(body, { headers, url }) {
      await verify(secret, headers, body);
      return { id: String(headers['webhook-id']), to: String(url), text: body };
    },
    answer: (mood) => ({ status: { takes: 204, refuses: 410, 'is busy': 503 }[mood], text: '' }),
  });
}

/** Amazon SNS as far as a client sees it that publishes to a telephone: its query protocol. */
export function snsPeer(): Promise<Peer> {
  const error = (code: string, type: string) =>
    `<ErrorResponse><Error><Type>${type}</Type><Code>${code}</Code><Message>no</Message></Error></ErrorResponse>`;
  return httpPeer({
    take(body) {
      const form = new URLSearchParams(body);
      if (form.get('Action') !== 'Publish') throw new Error(`not a message: ${body}`);
      return { id: undefined, to: form.get('PhoneNumber') ?? '', text: form.get('Message') ?? '' };
    },
    answer: (mood) =>
      ({
        takes: {
          status: 200,
          text: '<PublishResponse><PublishResult><MessageId>1</MessageId></PublishResult></PublishResponse>',
        },
        refuses: { status: 400, text: error('InvalidParameter', 'Sender') },
        'is busy': { status: 429, text: error('Throttled', 'Sender') },
      })[mood],
  });
}

/** Amazon SES as far as a client sees it that sends a raw mail: `SendEmail` of its API, version 2. */
export function sesPeer(): Promise<Peer> {
  const error = (code: string) => JSON.stringify({ __type: code, message: 'no' });
  return httpPeer({
    take(body, { url }) {
      if (url !== '/v2/email/outbound-emails') throw new Error(`not a mail: ${url}`);
      const { Destination, Content } = JSON.parse(body);
      const text = Buffer.from(Content.Raw.Data, 'base64').toString();
      // It gives a mail a Message-ID of its own; this is what a receiver can tell a repeat by.
      const id = /^Original-Message-ID:\s+<(.*)>\r$/im.exec(text)?.[1];
      return { id, to: Destination.ToAddresses.join(), text };
    },
    answer: (mood) =>
      ({
        takes: { status: 200, text: '{"MessageId":"1"}' },
        refuses: { status: 400, text: error('MessageRejected') },
        'is busy': { status: 429, text: error('TooManyRequestsException') },
      })[mood],
  });
}

/** A mail server. */
export async function mailPeer(): Promise<Peer> {
  const sockets = new Set<Socket>();
  const refusal = (responseCode: number) => Object.assign(new Error('not today'), { responseCode });
  const smtp = new SMTPServer({
    authOptional: true,
    disabledCommands: ['STARTTLS'],
    onRcptTo(_address, _session, callback) {
      if (peer.mood === 'is silent') return;
      if (peer.mood === 'refuses') return callback(refusal(550));
      callback(peer.mood === 'is busy' ? refusal(451) : null);
    },
    onData(stream, { envelope }, callback) {
      const chunks: Buffer[] = [];
      stream.on('data', (chunk) => chunks.push(chunk));
      stream.on('end', () => {
        const text = Buffer.concat(chunks).toString();
        const to = envelope.rcptTo.map(({ address }) => address).join();
        peer.taken.push({ id: /^Message-ID: <(.*)>\r$/im.exec(text)?.[1], to, text });
        if (peer.mood === 'takes and is silent') return;
        if (peer.mood === 'takes and hangs up') for (const socket of sockets) socket.destroy();
        else callback();
      });
    },
  });
  // A client that gives up is part of the play.
  smtp.on('error', () => {});
  smtp.server.on('connection', (socket) => {
    sockets.add(socket);
    socket.on('close', () => sockets.delete(socket));
  });
  smtp.listen(0, '127.0.0.1');
  await new Promise((resolve) => smtp.server.once('listening', resolve));
  const { port } = smtp.server.address() as AddressInfo;
  const close = () =>
    new Promise<void>((resolve) => {
      for (const socket of sockets) socket.destroy();
      smtp.close(() => resolve());
    });
  const peer: Peer = { mood: 'takes', taken: [], port, close };
  return peer;
}

/**
 * Checks a request by Standard Webhooks 1.0.0, with nothing of ours.
 *
 * @throws if it does not bear a fresh signature of the secret
 */
async function verify(secret: string, headers: IncomingMessage['headers'], body: string): Promise<void> {
  const { 'webhook-id': id, 'webhook-timestamp': timestamp, 'webhook-signature': signatures } = headers;
  const bytes = Uint8Array.from(atob(secret.replace(/^whsec_/, '')), (character) => character.charCodeAt(0));
  const key = await crypto.subtle.importKey('raw', bytes, { name: 'HMAC', hash: 'SHA-256' }, false, [
    'verify',
  ]);
  const [version, base64 = ''] = String(signatures).split(',');
  const signature = Uint8Array.from(atob(base64), (character) => character.charCodeAt(0));
  const signed = new TextEncoder().encode(`${id}.${timestamp}.${body}`);
  if (version !== 'v1' || !(await crypto.subtle.verify('HMAC', key, signature, signed))) {
    throw new Error('the signature is false');
  }
  if (Math.abs(Date.now() / 1000 - Number(timestamp)) > 300) throw new Error('the timestamp is stale');
}

async function listening(server: Server): Promise<number> {
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return (server.address() as AddressInfo).port;
}

async function closed(server: Server, first: () => void): Promise<void> {
  first();
  await new Promise((resolve) => server.close(resolve));
}
