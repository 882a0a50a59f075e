import { afterAll, beforeAll, expect, test } from 'vitest';
import { noticeSchema } from '../../../../functions/noticeMessages.ts';
import { notices, visitNotice } from '../../../../functions/send.ts';
import { formatLocalDate } from '../../../../shared/time/localDate.ts';
import { live } from '../../../functions/api/service.ts';
import { outboxOf } from '../../../lib/store/examples.ts';
import { sqsEvent } from '../../../support/lambda/events.ts';
import type { Lambda } from '../../../support/lambda/lambda.ts';
import { lines, records } from '../../../support/smallFleet.ts';
import { type Cloud, startCloud } from './cloud.ts';

const COMPANY = 'fenwick-water';
const UNIT = { companyId: COMPANY, unitId: 'u-19' };
const NONE = { batchItemFailures: [] };
const TODAY = Math.floor(Date.now() / 86_400_000);

let cloud: Cloud;
let notify: Lambda;

beforeAll(async () => {
  cloud = await startCloud('notify');
  const { store } = cloud;
  await store.putCompany({
    companyId: COMPANY,
    name: 'Fenwick Water',
    channels: [{ type: 'sms', to: ['+15005550006'] }],
    rules: {},
  });
  const household = { mail: 'home@fenwick.example' };
  await live(
    store,
    records.map((record) => ({ ...record, household })),
    lines,
  );
  await store.putPerson(COMPANY, {
    personId: 'tech-4',
    mail: 'tomas@fenwick.example',
    name: 'Tomas Ruiz',
    role: 'technician',
    units: 'us',
  });
  notify = await cloud.start('notify');
}, 120_000);
afterAll(() => cloud.stop());

test('the technician of a visit gets its brief by mail, as a sheet in PDF too', async () => {
  const visit = {
    visitId: 'v-1',
    technician: 'tech-4',
    date: formatLocalDate(TODAY + 3),
    reason: 'Meter seems stalled',
    by: 'Dana',
    at: Date.now(),
  };
  await cloud.store.putVisit(UNIT, visit);
  expect(await notify.invoke(sqsEvent([visitNotice(UNIT, visit, 'planned')]))).toEqual(NONE);
  const [mail] = cloud.ses.mails.splice(0);
  expect(mail?.to).toEqual(['tomas@fenwick.example']);
  const [, packed = ''] =
    /Content-Type: application\/pdf[\s\S]*?\r\n\r\n([A-Za-z0-9+/=\r\n]+)/.exec(mail?.text ?? '') ?? [];
  const pdf = Buffer.from(packed, 'base64');
  expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
  expect(pdf.subarray(-6).toString()).toBe('%%EOF\n');
});

test('a stalled meter: the household is asked with a link that only we can make, the desk by short message', async () => {
  const { transitions, alerts } = outboxOf('u-19');
  const [transition] = transitions;
  if (!transition) throw new Error('the stalled meter has raised no alert');
  for (const { alertId, alert } of alerts) await cloud.store.putAlert(UNIT, 1, alertId, alert);
  const [message] = notices(UNIT, 1, [
    { ...transition, alert: { ...transition.alert, severity: 'routine', clearedAt: null } },
  ]);
  if (!message) throw new Error('there is no notice');
  noticeSchema.parse(JSON.parse(message.body));
  expect(await notify.invoke(sqsEvent([message]))).toEqual(NONE);
  const [asked] = cloud.ses.mails.splice(0);
  expect(asked?.to).toEqual(['home@fenwick.example']);
  expect(asked?.text.replaceAll('=\r\n', '')).toMatch(
    /https:\/\/console\.brinebell\.example\/answer\/fenwick-water~u-19~/,
  );
  expect([...cloud.secrets.reads]).toEqual([['the-answer-key', 1]]);
  // That it was asked becomes an event of the unit.
  const [note] = cloud.take('ingest');
  expect(JSON.parse(JSON.parse(note?.body ?? '{}').line)).toMatchObject({
    type: 'brinebell.question.v1',
    data: { step: 'asked' },
  });

  const [urgent] = notices(UNIT, 2, [
    {
      ...transition,
      key: `${transition.key}-urgent`,
      alert: { ...transition.alert, severity: 'urgent', clearedAt: null },
    },
  ]);
  if (!urgent) throw new Error('there is no notice');
  expect(await notify.invoke(sqsEvent([urgent]))).toEqual(NONE);
  expect(cloud.sns.messages).toMatchObject([
    { to: '+15005550006', text: expect.stringContaining('https://console.brinebell.example/') },
  ]);
});
