import { isIPv4 } from 'node:net';
import type { Carriers } from '../../lib/channels/carrier.ts';
import { mailCarrier } from '../../lib/channels/mail.ts';
import { smtpTransport } from '../../lib/channels/smtp.ts';
import { webhookCarrier } from '../../lib/channels/webhook.ts';

export interface CarrierOptions {
  /** The address that the service listens on. */
  readonly host: string;
  /** Where people reach it. */
  readonly baseUrl: URL;
  /** The mail server, as a URL. Without one no mail is sent. */
  readonly smtpUrl?: string | undefined;
  /** What mail comes from. */
  readonly mailFrom?: string | undefined;
}

/** What the service sends notices with: webhooks, and mail where there is a server for it. */
export function carriersOf({ host, baseUrl, smtpUrl, mailFrom }: CarrierOptions): Carriers {
  const domain = baseUrl.hostname;
  const from = mailFrom ?? `Brinebell <brinebell@${domain}>`;
  return {
    // Whoever can reach a service of this machine only can reach the rest of the machine without it.
    webhook: webhookCarrier({ privateAddresses: isLoopback(host) ? 'allowed' : 'refused' }),
    ...(smtpUrl !== undefined && { mail: mailCarrier({ transport: smtpTransport(smtpUrl), from, domain }) }),
  };
}

function isLoopback(host: string): boolean {
  return host === 'localhost' || host === '::1' || (isIPv4(host) && host.startsWith('127.'));
}
