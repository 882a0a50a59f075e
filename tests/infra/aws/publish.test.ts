import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DeleteObjectsCommand, ListObjectsV2Command, PutObjectCommand, S3Client } from '@aws-sdk/client-s3';
import { mockClient } from 'aws-sdk-client-mock';
import { afterAll, beforeEach, expect, it } from 'vitest';
import type { PublishEvent } from '../../../infra/aws/publish/event.ts';
import { publish } from '../../../infra/aws/publish/publish.ts';

const NOW = Date.parse('2026-11-26T12:00:00Z');
const DAY = 86_400_000;
const folder = mkdtempSync(join(tmpdir(), 'brinebell-console-'));
mkdirSync(join(folder, 'assets'));
for (const file of ['index.html', 'sw.js', 'assets/main-1a2b.js', 'assets/zoo-9z.woff2'])
  writeFileSync(join(folder, file), file);
afterAll(() => rmSync(folder, { recursive: true }));

/** A bucket that lists two keys a page. */
const objects = new Map<string, number>();
const s3 = mockClient(S3Client);
const puts = () => s3.commandCalls(PutObjectCommand).map(({ args: [{ input }] }) => input);

beforeEach(() => {
  s3.reset();
  objects.clear();
  s3.on(PutObjectCommand).callsFake(({ Key }) => void objects.set(Key, NOW));
  s3.on(DeleteObjectsCommand).callsFake(({ Delete }) => {
    for (const { Key } of Delete.Objects) objects.delete(Key);
    return {};
  });
  s3.on(ListObjectsV2Command).callsFake(({ ContinuationToken }) => {
    // After a key, as Amazon S3 goes on: what was deleted meanwhile does not shift it.
    const keys = [...objects.keys()].sort().filter((key) => key > (ContinuationToken ?? ''));
    const page = keys.slice(0, 2);
    return {
      Contents: page.map((Key) => ({ Key, LastModified: new Date(objects.get(Key) ?? 0) })),
      NextContinuationToken: keys.length > 2 ? page.at(-1) : undefined,
    };
  });
});

function published(RequestType: PublishEvent['RequestType']): Promise<void> {
  const event = {
    ...{ RequestType, ResponseURL: '', StackId: '', RequestId: '', LogicalResourceId: '' },
    ResourceProperties: { Bucket: 'console', Version: '1' },
  };
  return publish(event, { s3: new S3Client({}), folder, now: () => NOW });
}

it('puts every file with its type and how long it may be kept, and the page last', async () => {
  await published('Create');
  expect(puts().map(({ Key, ContentType, CacheControl }) => [Key, ContentType, CacheControl])).toEqual([
    ['assets/main-1a2b.js', 'text/javascript; charset=utf-8', 'public, max-age=31536000, immutable'],
    ['assets/zoo-9z.woff2', 'font/woff2', 'public, max-age=31536000, immutable'],
    ['sw.js', 'text/javascript; charset=utf-8', 'no-cache'],
    ['index.html', 'text/html; charset=utf-8', 'no-cache'],
  ]);
});

it('keeps files of earlier builds for pages that are open, and takes those off that are a month old', async () => {
  objects.set('assets/main-old.js', NOW - 31 * DAY).set('assets/main-last.js', NOW - 29 * DAY);
  objects.set('aaa', NOW - 40 * DAY).set('bbb', NOW - 40 * DAY);
  await published('Update');
  expect([...objects.keys()].sort()).toEqual([
    ...['assets/main-1a2b.js', 'assets/main-last.js', 'assets/zoo-9z.woff2', 'index.html', 'sw.js'],
  ]);
});

it('takes all off with the stack', async () => {
  await published('Create');
  objects.set('assets/main-last.js', NOW - DAY);
  await published('Delete');
  expect([...objects.keys()]).toEqual([]);
});

it('fails where a file stays', async () => {
  objects.set('aaa', 0);
  s3.on(DeleteObjectsCommand).resolves({ Errors: [{ Key: 'aaa', Message: 'locked' }] });
  await expect(published('Delete')).rejects.toThrow(/aaa stays in console: locked/);
});
