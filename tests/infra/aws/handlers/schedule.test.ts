import { afterAll, beforeAll, expect, test } from 'vitest';
import { touchedSchema } from '../../../../functions/messages.ts';
import { live } from '../../../functions/api/service.ts';
import { SCHEDULED } from '../../../support/lambda/events.ts';
import { lines, records } from '../../../support/smallFleet.ts';
import { type Cloud, startCloud } from './cloud.ts';

const COMPANY = 'fenwick-water';

let cloud: Cloud;

beforeAll(async () => {
  cloud = await startCloud('sweep', 'report');
  await cloud.store.putCompany({ companyId: COMPANY, name: 'Fenwick Water', channels: [], rules: {} });
  await live(cloud.store, records, lines);
}, 120_000);
afterAll(() => cloud.stop());

test('each unit is sent on once after its noon, whatever the schedule sends along', async () => {
  const sweep = await cloud.start('sweep');
  expect(await sweep.invoke(SCHEDULED)).toBeNull();
  const touched = cloud.take('assess');
  expect(touched.map(({ group }) => group).sort()).toEqual(
    records.map(({ unitId }) => `${COMPANY}/${unitId}`).sort(),
  );
  for (const { body } of touched)
    expect(touchedSchema.parse(JSON.parse(body)).noon).toBeLessThanOrEqual(Date.now());
  expect(await sweep.invoke(SCHEDULED)).toBeNull();
  expect(cloud.take('assess')).toEqual([]);
});

test('the salt accounts of a company are put among the reports', async () => {
  const report = await cloud.start('report');
  expect(await report.invoke(SCHEDULED)).toBeNull();
  const csv = cloud.s3.files.get(`reports/${COMPANY}/salt.csv`)?.toString() ?? '';
  const [header = '', ...rows] = csv.trim().split('\r\n');
  expect(header).toMatch(/^region,month,units_reporting/);
  expect(new Set(rows.map((row) => row.split(',')[0]))).toEqual(new Set(['alder-county', 'high-basin']));
});
