import type { IoTPreProvisioningHookEvent } from 'aws-lambda';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { lettersOf } from '../../../../functions/meters/claimCode.ts';
import { hashOf } from '../../../../functions/secrets.ts';
import { CERTIFICATES } from '../../../functions/meters/certificates.ts';
import { arnOf } from '../../../support/aws/iot.ts';
import type { Lambda } from '../../../support/lambda/lambda.ts';
import { type Cloud, startCloud } from './cloud.ts';

const CODE = '7K4M-9QXD-R2TV-0HJW-3NP1';
const UNIT = { companyId: 'fenwick-water', unitId: 'u.17' };
const THING = 'fenwick-water:u:-17';
const [BEFORE = '', NEW = ''] = ['a', 'b'].map((digit) => digit.repeat(64));

let cloud: Cloud;
let admit: Lambda;

beforeAll(async () => {
  cloud = await startCloud('admit');
  admit = await cloud.start('admit');
}, 120_000);
afterAll(() => cloud.stop());

test('the bundled function lets a meter in once, and revokes what it had before', async () => {
  const { iot } = cloud;
  iot.put(THING, BEFORE);
  const codeHash = hashOf(lettersOf(CODE) ?? '');
  await cloud.store.putClaim({ ...UNIT, codeHash, expiresAt: Date.now() + 60_000, used: null });
  // The members are those of the Developer Guide, "Pre-provisioning hooks", "Pre-provision hook input".
  const event: IoTPreProvisioningHookEvent = {
    claimCertificateId: 'c1a1'.repeat(16),
    certificateId: NEW,
    certificatePem: CERTIFICATES.first,
    templateArn: 'arn:aws:iot:us-east-1:1234567890:provisioningtemplate/MyTemplate',
    clientId: '221a6d10-9c7f-42f1-9153-e52e6fc869c1',
    parameters: { CompanyId: UNIT.companyId, UnitId: UNIT.unitId, ClaimCode: CODE },
  };
  expect(
    await admit.invoke({ ...event, parameters: { ...event.parameters, ClaimCode: CODE.replace('7', '8') } }),
  ).toEqual({
    allowProvisioning: false,
    parameterOverrides: {},
  });
  expect(iot.status.get(BEFORE)).toBe('ACTIVE');
  expect(await admit.invoke(event)).toEqual({
    allowProvisioning: true,
    parameterOverrides: { ThingName: THING, CompanyId: UNIT.companyId, UnitId: UNIT.unitId },
  });
  expect(iot.status.get(BEFORE)).toBe('REVOKED');
  expect(iot.things.get(THING)).not.toContain(arnOf(BEFORE));
  const other = { ...event, certificateId: 'c'.repeat(64), certificatePem: CERTIFICATES.second };
  expect(await admit.invoke(other)).toMatchObject({ allowProvisioning: false });
});
