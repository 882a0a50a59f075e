import { BatchCreatePartitionCommand, GlueClient } from '@aws-sdk/client-glue';
import { mockClient } from 'aws-sdk-client-mock';
import { beforeEach, expect, it } from 'vitest';
import { registeredFiles } from '../../../../infra/aws/parts/registeredFiles.ts';
import { CATALOGUE_TABLES } from '../../../../lib/archive/catalogue.ts';
import { memoryFiles } from '../../../support/memoryFiles.ts';

const glue = mockClient(GlueClient);
const PATH = 'facts/company=larkwater/region=alder-county/month=2026-03/12-aa.parquet';

beforeEach(() => glue.reset());

function made() {
  const memory = memoryFiles();
  const client = new GlueClient({ region: 'eu-west-1' });
  return {
    ...memory,
    registered: registeredFiles(memory.files, { client, database: 'brinebell_test', bucket: 'a-bucket' }),
  };
}

const refusedWith = (ErrorCode: string) => ({ Errors: [{ ErrorDetail: { ErrorCode, ErrorMessage: 'no' } }] });

it('tells the catalogue of a partition once, and of other files nothing', async () => {
  glue.on(BatchCreatePartitionCommand).resolves({});
  const { registered, kept } = made();
  await registered.put(PATH, 'a');
  await registered.put(PATH.replace('12-aa', '13-bb'), 'b');
  await registered.put('reports/larkwater/salt.csv', 'c');
  await registered.put('accounts/company=larkwater/region=alder-county/month=2026-03/units.parquet', 'd');
  expect(kept.size).toBe(4);
  const inputs = glue.commandCalls(BatchCreatePartitionCommand).map(({ args: [{ input }] }) => input);
  expect(inputs.map(({ TableName }) => TableName)).toEqual(['fact_copies', 'account_copies']);
  const columns = CATALOGUE_TABLES[0]?.columns.map(({ name, type }) => ({ Name: name, Type: type }));
  expect(inputs[0]).toMatchObject({
    DatabaseName: 'brinebell_test',
    PartitionInputList: [
      {
        Values: ['larkwater', 'alder-county', '2026-03'],
        StorageDescriptor: {
          Location: 's3://a-bucket/facts/company=larkwater/region=alder-county/month=2026-03/',
          Columns: columns,
        },
      },
    ],
  });
});

it('takes a partition that is there for told, and tries one again that was refused', async () => {
  glue
    .on(BatchCreatePartitionCommand)
    .resolvesOnce(refusedWith('InternalServiceException'))
    .resolves(refusedWith('AlreadyExistsException'));
  const { registered, kept } = made();
  await expect(registered.put(PATH, 'a')).rejects.toMatchObject({ code: 'catalogue-failed' });
  expect(kept.has(PATH)).toBe(true);
  await registered.put(PATH, 'a');
  await registered.put(PATH, 'a');
  expect(glue.commandCalls(BatchCreatePartitionCommand)).toHaveLength(2);
});
