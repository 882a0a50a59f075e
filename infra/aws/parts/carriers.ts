import type { Carriers } from '../../../lib/channels/carrier.ts';
import { webhookCarrier } from '../../../lib/channels/webhook.ts';
import { CLIENT_OPTIONS } from './clientOptions.ts';

/** What was not answered may have been taken: it is not repeated here, but by the queue, which takes its time. */
const ONCE = { ...CLIENT_OPTIONS, maxAttempts: 1 };

/**
 * What notices are sent with: mail by Amazon SES, short messages by Amazon SNS, webhooks. What each takes is loaded with
 * the first that it carries.
 */
export function cloudCarriers({ from, domain }: { from: string; domain: string }): Carriers {
  const mail = once(async () => {
    const [{ SESv2Client }, { mailCarrier }, { sesTransport }] = await Promise.all([
      import('@aws-sdk/client-sesv2'),
      import('../../../lib/channels/mail.ts'),
      import('../../../lib/channels/ses.ts'),
    ]);
    return mailCarrier({ transport: sesTransport(new SESv2Client(ONCE)), from, domain });
  });
  const sms = once(async () => {
    const [{ SNSClient }, { smsCarrier }, { snsSms }] = await Promise.all([
      import('@aws-sdk/client-sns'),
      import('../../../lib/channels/sms.ts'),
      import('../../../lib/channels/snsSms.ts'),
    ]);
    return smsCarrier(snsSms(new SNSClient(ONCE)));
  });
  return {
    mail: { send: async (...sent) => (await mail()).send(...sent) },
    sms: { send: async (...sent) => (await sms()).send(...sent) },
    webhook: webhookCarrier({ privateAddresses: 'refused' }),
  };
}

function once<Result>(make: () => Promise<Result>): () => Promise<Result> {
  let made: Promise<Result> | undefined;
  return () => {
    made ??= make();
    return made;
  };
}
