import { readdir, readFile } from 'node:fs/promises';
import { join, relative, sep } from 'node:path';
import {
  DeleteObjectsCommand,
  ListObjectsV2Command,
  PutObjectCommand,
  type S3Client,
} from '@aws-sdk/client-s3';
import { fileHeaders } from '../../consoleFile.ts';
import type { PublishEvent } from './event.ts';

/** Files could not be taken off the console's bucket. */
class PublishError extends Error {
  override readonly name = 'PublishError';
}

/** Pages that are open ask for files of their own build for a while. */
const KEPT_MS = 30 * 86_400_000;
/** Last of all, since it names the others. */
const PAGE = 'index.html';

interface Publishing {
  readonly s3: Pick<S3Client, 'send'>;
  /** Where the console's files are. */
  readonly folder: string;
  readonly now: () => number;
}

/**
 * Does what CloudFormation asks of the console's files: puts them into the bucket and takes those off that have been of no
 * use for a month; with the stack, all. Done twice it is as done once.
 */
export async function publish(event: PublishEvent, { s3, folder, now }: Publishing): Promise<void> {
  const { Bucket } = event.ResourceProperties;
  const files = event.RequestType === 'Delete' ? [] : await filesOf(folder);
  for (const Key of files) {
    const { 'content-type': ContentType, 'cache-control': CacheControl } = fileHeaders(`/${Key}`);
    const Body = await readFile(join(folder, Key));
    await s3.send(new PutObjectCommand({ Bucket, Key, Body, ContentType, CacheControl }));
  }
  const until = event.RequestType === 'Delete' ? Number.POSITIVE_INFINITY : now() - KEPT_MS;
  await takeOff(s3, Bucket, new Set(files), until);
}

async function filesOf(folder: string): Promise<string[]> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  const paths = entries
    .filter((entry) => entry.isFile())
    .map(({ parentPath, name }) => relative(folder, join(parentPath, name)).split(sep).join('/'));
  return [...paths.filter((path) => path !== PAGE).sort(), ...paths.filter((path) => path === PAGE)];
}

/** Takes off what is not among those to keep and was put before an instant. */
async function takeOff(
  s3: Publishing['s3'],
  Bucket: string,
  keep: ReadonlySet<string>,
  before: number,
): Promise<void> {
  let ContinuationToken: string | undefined;
  do {
    const page = await s3.send(new ListObjectsV2Command({ Bucket, ContinuationToken }));
    ContinuationToken = page.NextContinuationToken;
    const old = (page.Contents ?? []).flatMap(({ Key, LastModified }) =>
      Key !== undefined && !keep.has(Key) && (LastModified?.getTime() ?? 0) < before ? [{ Key }] : [],
    );
    if (old.length === 0) continue;
    const { Errors = [] } = await s3.send(
      new DeleteObjectsCommand({ Bucket, Delete: { Objects: old, Quiet: true } }),
    );
    if (Errors[0]) throw new PublishError(`${Errors[0].Key} stays in ${Bucket}: ${Errors[0].Message}`);
  } while (ContinuationToken !== undefined);
}
