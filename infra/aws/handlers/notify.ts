import { SESv2Client } from '@aws-sdk/client-sesv2';
import { SNSClient } from '@aws-sdk/client-sns';
import { notify } from '../../../functions/notify.ts';
import { sentNotices } from '../../../functions/sentNotices.ts';
import { mailCarrier } from '../../../lib/channels/mail.ts';
import { sesTransport } from '../../../lib/channels/ses.ts';
import { smsCarrier } from '../../../lib/channels/sms.ts';
import { snsSms } from '../../../lib/channels/snsSms.ts';
import { webhookCarrier } from '../../../lib/channels/webhook.ts';
import { ENVIRONMENT } from '../environment.ts';
import { CLIENT_OPTIONS } from '../parts/clientOptions.ts';
import { entry } from '../parts/entry.ts';
import { outletsOf } from '../parts/outlets.ts';
import { portsOf } from '../parts/ports.ts';
import { secret } from '../parts/secrets.ts';
import { setting } from '../parts/setting.ts';

/** What was not answered may have been taken: it is not repeated here, but by the queue, which takes its time. */
const ONCE = { ...CLIENT_OPTIONS, maxAttempts: 1 };

const ports = portsOf('notify', outletsOf('notify'));
const baseUrl = new URL(setting(ENVIRONMENT.publicUrl));

const handle = notify(ports, {
  carriers: {
    mail: mailCarrier({
      transport: sesTransport(new SESv2Client(ONCE)),
      from: setting(ENVIRONMENT.mailFrom),
      domain: baseUrl.hostname,
    }),
    sms: smsCarrier(snsSms(new SNSClient(ONCE))),
    webhook: webhookCarrier({ privateAddresses: 'refused' }),
  },
  sent: sentNotices(ports.table.client, ports.table.tableName),
  baseUrl,
  answerSecret: secret(setting(ENVIRONMENT.answerKey)),
});

export const handler = entry(ports, handle);
