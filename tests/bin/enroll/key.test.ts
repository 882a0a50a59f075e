import { expect, test } from 'vitest';
import { keyIn } from '../../../bin/enroll/key.ts';
import { DEMO_COMPANY_ID } from '../../../infra/local/demo/demo.ts';
import { scratch } from '../../support/command.ts';

const folder = scratch();

test.each([
  ['that the API makes', 'fenwick-water~0a1b2c3d.the-secret_1', 'fenwick-water'],
  ['of the demonstration', `${DEMO_COMPANY_ID}~demo.the-secret`, DEMO_COMPANY_ID],
  ['of a company with dots in its id', 'acme.north~1.secret', 'acme.north'],
])('takes a key %s, and knows its company', async (_, key, companyId) => {
  expect(await keyIn(folder.file('key', `${key}\n`))).toEqual({ key, companyId });
});

test.each(['operator.secret', 'acme/u-17.secret', 'acme~1', '~1.secret', ''])('refuses %j', async (text) => {
  await expect(keyIn(folder.file('key', text))).rejects.toMatchObject({ code: 'key-refused' });
});
