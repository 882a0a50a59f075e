import type { Channel } from '../store/company.ts';

export interface MailDestination {
  readonly type: 'mail';
  readonly to: string;
}

export interface WebhookDestination {
  readonly type: 'webhook';
  readonly url: string;
  readonly secret: string;
}

export interface SmsDestination {
  readonly type: 'sms';
  readonly to: string;
}

/** One address. A channel of several is taken apart, so that one that fails makes no other be told twice. */
export type Destination = MailDestination | WebhookDestination | SmsDestination;

/** Every address of a company's channels, each once. */
export function destinationsOf(channels: readonly Channel[]): Destination[] {
  const all = channels.flatMap((channel): Destination[] =>
    channel.type === 'webhook' ? [channel] : channel.to.map((to) => ({ type: channel.type, to })),
  );
  return [...new Map(all.map((destination) => [identityOf(destination), destination])).values()];
}

/** Names a destination among those of its company. A webhook that changes its secret is still the same. */
export function identityOf(destination: Destination): string {
  return `${destination.type}:${destination.type === 'webhook' ? destination.url : destination.to}`;
}
