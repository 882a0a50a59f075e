import type { Carriers } from '../../../lib/channels/carrier.ts';
import { webhookCarrier } from '../../../lib/channels/webhook.ts';
import { CLIENT_OPTIONS } from './clientOptions.ts';
import { later } from './later.ts';

/** What was not answered may have been taken: it is not repeated here, but by the queue, which takes its time. */
const ONCE = { ...CLIENT_OPTIONS, maxAttempts: 1 };

interface CarriersOptions {
  /** What mail comes from; without it none is sent. */
  readonly from: string | undefined;
  /** The domain that ids of messages are made under. */
  readonly domain: string;
}

/**
 * What notices are sent with: mail by Amazon SES, short messages by Amazon SNS, webhooks. What each takes is loaded with
 * the first that it carries.
 */
export function cloudCarriers({ from, domain }: CarriersOptions): Carriers {
  const mailFrom = (sender: string) =>
    later(async () => {
      const [{ SESv2Client }, { mailCarrier }, { sesTransport }] = await Promise.all([
        import('@aws-sdk/client-sesv2'),
        import('../../../lib/channels/mail.ts'),
        import('../../../lib/channels/ses.ts'),
      ]);
      return mailCarrier({ transport: sesTransport(new SESv2Client(ONCE)), from: sender, domain });
    });
  const mail = from === undefined ? undefined : mailFrom(from);
  const sms = later(async () => {
    const [{ SNSClient }, { smsCarrier }, { snsSms }] = await Promise.all([
      import('@aws-sdk/client-sns'),
      import('../../../lib/channels/sms.ts'),
      import('../../../lib/channels/snsSms.ts'),
    ]);
    return smsCarrier(snsSms(new SNSClient(ONCE)));
  });
  return {
    ...(mail && { mail: { send: async (...sent) => (await mail()).send(...sent) } }),
    sms: { send: async (...sent) => (await sms()).send(...sent) },
    webhook: webhookCarrier({ privateAddresses: 'refused' }),
  };
}
