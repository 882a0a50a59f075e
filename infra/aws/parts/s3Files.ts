import {
  DeleteObjectsCommand,
  GetObjectCommand,
  HeadObjectCommand,
  ListObjectsV2Command,
  PutObjectCommand,
  type S3Client,
} from '@aws-sdk/client-s3';
import type { ArchiveFile, ArchiveFiles } from '../../../lib/archive/files.ts';
import { chunks } from '../../../shared/chunks.ts';

/** Thrown where files could not be taken off, or one has no content. */
class FilesError extends Error {
  readonly code = 'files-failed';
}

/** Amazon S3 API reference, DeleteObjects: up to 1,000 keys a call. */
const MOST_DROPPED = 1_000;

/** Files of a bucket of Amazon S3, which puts each whole or not at all and lists keys in the order of their UTF-8 bytes. */
export function s3Files(client: S3Client, Bucket: string): ArchiveFiles {
  return {
    async put(Key, Body) {
      await client.send(new PutObjectCommand({ Bucket, Key, Body }));
    },
    async list(Prefix) {
      const paths: string[] = [];
      let ContinuationToken: string | undefined;
      do {
        const page = await client.send(new ListObjectsV2Command({ Bucket, Prefix, ContinuationToken }));
        paths.push(...(page.Contents ?? []).flatMap(({ Key }) => Key ?? []));
        ContinuationToken = page.NextContinuationToken;
      } while (ContinuationToken !== undefined);
      return paths;
    },
    async open(Key): Promise<ArchiveFile> {
      const { ContentLength = 0, ETag } = await client.send(new HeadObjectCommand({ Bucket, Key }));
      return {
        byteLength: ContentLength,
        async slice(start, end = ContentLength) {
          if (start >= end) return new ArrayBuffer(0);
          // Of one version: what is put meanwhile would not fit what has been read.
          const range = { Range: `bytes=${start}-${end - 1}`, IfMatch: ETag };
          const { Body } = await client.send(new GetObjectCommand({ Bucket, Key, ...range }));
          if (!Body) throw new FilesError(`${Key} has no content: look at it in the bucket ${Bucket}`);
          return Uint8Array.from(await Body.transformToByteArray()).buffer;
        },
      };
    },
    async drop(paths) {
      for (const some of chunks(paths, MOST_DROPPED)) {
        const Objects = some.map((Key) => ({ Key }));
        const { Errors = [] } = await client.send(
          new DeleteObjectsCommand({ Bucket, Delete: { Objects, Quiet: true } }),
        );
        const [first] = Errors;
        if (first) {
          throw new FilesError(
            `${Errors.length} files stay, such as ${first.Key}: ${first.Message}; try again`,
          );
        }
      }
    },
  };
}
