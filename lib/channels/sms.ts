import type { Carrier, Personal, Told } from './carrier.ts';
import type { SmsDestination } from './destination.ts';
import { fleetSms } from './text/fleetNotice.ts';
import { questionSms } from './text/question.ts';
import { smsText } from './text/sms.ts';
import { visitSms } from './text/visit.ts';

/** Whoever takes short messages from us. */
export interface SmsProvider {
  /**
   * Returns once the provider has taken the message.
   *
   * @throws ChannelError
   */
  send(message: ShortMessage): Promise<void>;
}

export interface ShortMessage {
  /** A number as ITU-T E.164 has it. */
  readonly to: string;
  readonly text: string;
  /** The same for a repeat of the message, for providers that can tell by it. */
  readonly key: string;
  readonly signal: AbortSignal;
}

/** Carries notices, questions to households and word of visits as short messages. */
export function smsCarrier(provider: SmsProvider): Carrier<SmsDestination, Told | Personal> {
  return {
    async send(what, { to }, id, withinMs) {
      await provider.send({
        to,
        text: wordsOf(what),
        key: id,
        signal: AbortSignal.timeout(withinMs),
      });
    },
  };
}

function wordsOf(what: Told | Personal): string {
  if ('event' in what) return fleetSms(what);
  if ('occasion' in what) return visitSms(what);
  return 'since' in what ? questionSms(what) : smsText(what);
}
