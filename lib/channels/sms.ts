import type { Carrier, Told } from './carrier.ts';
import type { SmsDestination } from './destination.ts';
import type { Question } from './question.ts';
import { fleetSms } from './text/fleetNotice.ts';
import { questionSms } from './text/question.ts';
import { smsText } from './text/sms.ts';

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

/** Carries notices, and questions to households, as short messages. */
export function smsCarrier(provider: SmsProvider): Carrier<SmsDestination, Told | Question> {
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

function wordsOf(what: Told | Question): string {
  if ('event' in what) return fleetSms(what);
  return 'since' in what ? questionSms(what) : smsText(what);
}
