import type { SendMailOptions } from 'nodemailer';
import type { Carrier, Personal, Told } from './carrier.ts';
import type { MailDestination } from './destination.ts';
import { fleetMail } from './text/fleetNotice.ts';
import { mailText } from './text/mail.ts';
import { questionMail } from './text/question.ts';
import { visitSubject } from './text/visit.ts';

/** A mail, as nodemailer has it; nothing of it is to be read from a file or an address. */
export type Mail = Pick<
  SendMailOptions,
  'from' | 'to' | 'messageId' | 'headers' | 'subject' | 'text' | 'html' | 'attachments'
>;

/** Whoever takes mail from us. */
export interface MailTransport {
  /**
   * Returns once it has been taken.
   *
   * @throws ChannelError
   */
  send(mail: Mail, signal: AbortSignal): Promise<void>;
}

export interface MailOptions {
  readonly transport: MailTransport;
  /** What mail comes from, such as `Brinebell <alerts@example.com>`. */
  readonly from: string;
  /** The domain that Message-IDs are made under. */
  readonly domain: string;
}

/** Carries notices, questions to households and the briefs of visits as mail; a repeat of one bears the same Message-ID. */
export function mailCarrier({
  transport,
  from,
  domain,
}: MailOptions): Carrier<MailDestination, Told | Personal> {
  return {
    async send(what, { to }, id, withinMs) {
      const mail: Mail = {
        from,
        // As an object it is taken as one address, whatever commas it has.
        to: { name: '', address: to },
        messageId: `<${id}@${domain}>`,
        // RFC 3834: asks robots not to answer.
        headers: { 'Auto-Submitted': 'auto-generated' },
        ...wordsOf(what),
      };
      await transport.send(mail, AbortSignal.timeout(withinMs));
    },
  };
}

function wordsOf(what: Told | Personal): Pick<Mail, 'subject' | 'text' | 'html' | 'attachments'> {
  if ('event' in what) return fleetMail(what);
  if ('occasion' in what) {
    const { text, html, pdf, date } = what;
    const brief = {
      filename: `visit-brief-${date}.pdf`,
      content: Buffer.from(pdf),
      contentType: 'application/pdf',
    };
    return { subject: visitSubject(what), text, html, attachments: [brief] };
  }
  return 'since' in what ? questionMail(what) : mailText(what);
}
