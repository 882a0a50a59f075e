import { type SESv2Client, SESv2ServiceException, SendEmailCommand } from '@aws-sdk/client-sesv2';
import MailComposer from 'nodemailer/lib/mail-composer';
import { ChannelError } from './errors.ts';
import type { Mail, MailTransport } from './mail.ts';

/** Where a client is asked to come back later: it sends too fast, too much, or sending is stopped for now. */
const NOT_NOW = new Set([
  'TooManyRequestsException',
  'LimitExceededException',
  'SendingPausedException',
  'ThrottlingException',
]);

/** An address that nobody can read as several, or as more than an address. */
const PLAIN_ADDRESS = /^[^\s@<>()[\]",;:\\]+@[^\s@<>()[\]",;:\\]+$/;

/**
 * Sends mail by Amazon SES. It gives each mail a Message-ID and a date of its own ("If you provide a Message-ID header,
 * Amazon SES overrides the header with its own value": Amazon SES developer guide, header fields), and knows no
 * idempotency key: a repeat can be told by `Original-Message-ID`, one of the headers that it lets through.
 */
export function sesTransport(client: Pick<SESv2Client, 'send'>): MailTransport {
  return {
    async send(mail, signal) {
      const { to, raw } = await made(mail);
      // The envelope is said beside the mail, so that nothing in its headers can add to whom it goes.
      const command = new SendEmailCommand({
        Destination: { ToAddresses: [to] },
        Content: { Raw: { Data: raw } },
      });
      try {
        await client.send(command, { abortSignal: signal });
      } catch (error) {
        throw channelError(error);
      }
    },
  };
}

async function made({ messageId, headers, ...mail }: Mail): Promise<{ to: string; raw: Buffer }> {
  const composer = new MailComposer({
    ...mail,
    headers: { ...headers, ...(messageId !== undefined && { 'Original-Message-ID': messageId }) },
    ...(messageId !== undefined && { messageId }),
    disableFileAccess: true,
    disableUrlAccess: true,
    newline: 'windows',
  });
  const message = composer.compile();
  const [to, ...more] = message.getEnvelope().to;
  if (to === undefined || more.length > 0 || !PLAIN_ADDRESS.test(to)) {
    throw new ChannelError('refused', 'the address is not one plain address: mend it');
  }
  return { to, raw: await message.build() };
}

function channelError(cause: unknown): ChannelError {
  const message = cause instanceof Error ? `${cause.name}: ${cause.message}` : String(cause);
  if (!(cause instanceof SESv2ServiceException)) return new ChannelError('unreachable', message, { cause });
  const isNotNow = NOT_NOW.has(cause.name) || cause.$metadata.httpStatusCode === 429;
  if (isNotNow) return new ChannelError('busy', message, { cause });
  return new ChannelError(cause.$fault === 'client' ? 'refused' : 'unreachable', message, { cause });
}
