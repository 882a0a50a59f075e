import { S3Client } from '@aws-sdk/client-s3';
import fc from 'fast-check';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { s3Files } from '../../../../infra/aws/parts/s3Files.ts';
import type { ArchiveFiles } from '../../../../lib/archive/files.ts';
import { localS3 } from '../../../support/aws/s3.ts';

let s3: Awaited<ReturnType<typeof localS3>>;
let client: S3Client;
let files: ArchiveFiles;

beforeAll(async () => {
  s3 = await localS3('archive');
  client = new S3Client({
    endpoint: s3.endpoint,
    region: 'us-east-2',
    forcePathStyle: true,
    credentials: { accessKeyId: 'a', secretAccessKey: 'b' },
  });
  files = s3Files(client, 'archive');
});
afterAll(async () => {
  client.destroy();
  await s3.close();
});

const bytesOf = async (path: string) => {
  const file = await files.open(path);
  return Buffer.from(await file.slice(0));
};

test('what is put is listed in order and read back, whole and in parts, and is gone once it is dropped', async () => {
  const name = fc.stringMatching(/^[a-z=&<é]{1,8}$/).map((each) => `facts/company=${each}/month.parquet`);
  const content = fc.uint8Array({ maxLength: 300 });
  await fc.assert(
    fc.asyncProperty(
      fc.dictionary(name, content, { maxKeys: 8 }),
      fc.nat(300),
      fc.nat(300),
      async (all, a, b) => {
        s3.files.clear();
        const paths = Object.keys(all);
        for (const [path, each] of Object.entries(all)) await files.put(path, each);
        await files.put('reports/c/salt.csv', 'region,month');
        expect(await files.list('facts/')).toEqual(
          paths.sort((one, other) => Buffer.compare(Buffer.from(one), Buffer.from(other))),
        );
        for (const [path, each] of Object.entries(all)) {
          const file = await files.open(path);
          expect(file.byteLength).toBe(each.length);
          const [start, end] = [Math.min(a, b, each.length), Math.min(Math.max(a, b), each.length)];
          expect(new Uint8Array(await file.slice(start, end))).toEqual(each.slice(start, end));
        }
        await files.drop(paths);
        expect([...s3.files.keys()]).toEqual(['reports/c/salt.csv']);
      },
    ),
    { numRuns: 15 },
  );
  expect((await bytesOf('reports/c/salt.csv')).toString()).toBe('region,month');
});

test('a file that is put anew while it is read is not read as a mixture', async () => {
  await files.put('a', '0123456789');
  const file = await files.open('a');
  expect(Buffer.from(await file.slice(0, 5)).toString()).toBe('01234');
  await files.put('a', 'abcdefghij');
  await expect(file.slice(5)).rejects.toThrow();
  await expect(files.open('nowhere')).rejects.toThrow();
});
