import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { IoTPreProvisioningHookEvent, IoTPreProvisioningHookResult } from 'aws-lambda';
import { build } from 'esbuild';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { lettersOf } from '../../../../functions/claimCode.ts';
import { hashOf } from '../../../../functions/secrets.ts';
import { ENVIRONMENT } from '../../../../infra/aws/environment.ts';
import { CERTIFICATES } from '../../../functions/certificates.ts';
import { scratch } from '../../../support/command.ts';
import { arnOf, iotServer } from '../../../support/iotServer.ts';
import { type TestTable, testTable } from '../../../support/table.ts';

const CODE = '7K4M-9QXD-R2TV-0HJW-3NP1';
const UNIT = { companyId: 'fenwick-water', unitId: 'u.17' };
const THING = 'fenwick-water:u:-17';
const [BEFORE = '', NEW = ''] = ['a', 'b'].map((digit) => digit.repeat(64));

const folder = scratch();
let iot: Awaited<ReturnType<typeof iotServer>>;
let table: TestTable;
let handler: (event: IoTPreProvisioningHookEvent) => Promise<IoTPreProvisioningHookResult>;

beforeAll(async () => {
  [iot, table] = await Promise.all([iotServer(), testTable()]);
  vi.stubEnv('DYNAMODB_ENDPOINT', table.endpoint);
  vi.stubEnv('AWS_ENDPOINT_URL_IOT', iot.url);
  vi.stubEnv('AWS_REGION', 'us-west-2');
  vi.stubEnv('AWS_ACCESS_KEY_ID', 'a');
  vi.stubEnv('AWS_SECRET_ACCESS_KEY', 's');
  vi.stubEnv('POWERTOOLS_LOG_LEVEL', 'SILENT');
  vi.stubEnv(ENVIRONMENT.table, table.tableName);
  // As AWS Lambda has it: one file, without the sources.
  const outfile = join(folder.path, 'index.mjs');
  await build({
    ...{ entryPoints: ['infra/aws/handlers/admit.ts'], outfile, bundle: true, minify: true },
    ...{ platform: 'node', target: 'node20', format: 'esm' },
    banner: { js: "import { createRequire as r } from 'node:module'; const require = r(import.meta.url);" },
  });
  ({ handler } = await import(/* @vite-ignore */ pathToFileURL(outfile).href));
});

afterAll(async () => {
  vi.unstubAllEnvs();
  folder.remove();
  iot.close();
  await table.close();
});

test('the bundled function lets a meter in once, and revokes what it had before', async () => {
  iot.put(THING, BEFORE);
  const codeHash = hashOf(lettersOf(CODE) ?? '');
  await table.store.putClaim({ ...UNIT, codeHash, expiresAt: Date.now() + 60_000, used: null });
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
    await handler({ ...event, parameters: { ...event.parameters, ClaimCode: CODE.replace('7', '8') } }),
  ).toEqual({
    allowProvisioning: false,
    parameterOverrides: {},
  });
  expect(iot.status.get(BEFORE)).toBe('ACTIVE');
  expect(await handler(event)).toEqual({
    allowProvisioning: true,
    parameterOverrides: { ThingName: THING, CompanyId: UNIT.companyId, UnitId: UNIT.unitId },
  });
  expect(iot.status.get(BEFORE)).toBe('REVOKED');
  expect(iot.things.get(THING)).not.toContain(arnOf(BEFORE));
  const other = { ...event, certificateId: 'c'.repeat(64), certificatePem: CERTIFICATES.second };
  expect((await handler(other)).allowProvisioning).toBe(false);
});
