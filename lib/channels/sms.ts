import type { Carrier } from './carrier.ts';
import type { SmsDestination } from './destination.ts';
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

/** Carries notices as short messages. */
export function smsCarrier(provider: SmsProvider): Carrier<SmsDestination> {
  return {
    async send(notice, { to }, id, withinMs) {
      await provider.send({
        to,
        text: smsText(notice),
        key: id,
        signal: AbortSignal.timeout(withinMs),
      });
    },
  };
}
