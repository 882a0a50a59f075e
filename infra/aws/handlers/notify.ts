import { notify } from '../../../functions/notify.ts';
import { sentNotices } from '../../../functions/sentNotices.ts';
import { ENVIRONMENT } from '../environment.ts';
import { cloudCarriers } from '../parts/carriers.ts';
import { entry } from '../parts/entry.ts';
import { outletsOf } from '../parts/outlets.ts';
import { portsOf } from '../parts/ports.ts';
import { secret } from '../parts/secrets.ts';
import { setting } from '../parts/setting.ts';

const ports = portsOf('notify', outletsOf('notify'));
const baseUrl = new URL(setting(ENVIRONMENT.publicUrl));

export const handler = entry(
  ports,
  notify(ports, {
    carriers: cloudCarriers({ from: process.env[ENVIRONMENT.mailFrom], domain: baseUrl.hostname }),
    sent: sentNotices(ports.table.client, ports.table.tableName),
    baseUrl,
    answerSecret: secret(setting(ENVIRONMENT.answerKey)),
  }),
);
