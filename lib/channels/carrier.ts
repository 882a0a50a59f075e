import type { Destination, MailDestination, SmsDestination, WebhookDestination } from './destination.ts';
import { ChannelError } from './errors.ts';
import type { FleetNotice } from './fleetNotice.ts';
import type { Notice } from './notice.ts';
import type { Question } from './question.ts';
import type { VisitNotice } from './visitNotice.ts';

/** What a company is told. */
export type Told = Notice | FleetNotice;

/** What some people are told one by one: households are asked, technicians get the brief of a visit. */
export type Personal = Question | VisitNotice;

/** Takes words to destinations of one type: what a company is told, and on some channels what is for one person. */
export interface Carrier<To extends Destination, What = Told> {
  /**
   * Sends a notice, or what is for one person where the channel can; returns once the other side has taken it.
   *
   * @param id the same for the same words and destination, however often it is sent: the other side can tell by it
   * @param withinMs how long it may take in all, milliseconds
   * @throws ChannelError after which the other side may have taken it only if the code is `unreachable`
   */
  send(what: What, to: To, id: string, withinMs: number): Promise<void>;
}

/** What the service can send with. */
export interface Carriers {
  readonly mail?: Carrier<MailDestination, Told | Personal> | undefined;
  readonly webhook?: Carrier<WebhookDestination> | undefined;
  readonly sms?: Carrier<SmsDestination, Told | Personal> | undefined;
}

/** All of them as one; a type that is not set up is refused. */
export function anyOf(carriers: Carriers): Carrier<Destination> {
  return {
    async send(notice, to, id, withinMs) {
      switch (to.type) {
        case 'mail':
          return setUp(carriers.mail, to.type).send(notice, to, id, withinMs);
        case 'webhook':
          return setUp(carriers.webhook, to.type).send(notice, to, id, withinMs);
        case 'sms':
          return setUp(carriers.sms, to.type).send(notice, to, id, withinMs);
      }
    },
  };
}

function setUp<To extends Destination>(carrier: Carrier<To> | undefined, type: To['type']): Carrier<To> {
  if (carrier) return carrier;
  throw new ChannelError('not-set-up', `the service is not set up to send by ${type}`);
}
