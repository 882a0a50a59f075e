import { S3Client } from '@aws-sdk/client-s3';
import type { ArchiveFiles } from '../../../lib/archive/files.ts';
import { ENVIRONMENT } from '../environment.ts';
import { CLIENT_OPTIONS } from './clientOptions.ts';
import { s3Files } from './s3Files.ts';
import { setting } from './setting.ts';

/** A file of many megabytes takes a while. */
const requestHandler = { ...CLIENT_OPTIONS.requestHandler, requestTimeout: 30_000 };

/** The files of the archive and the reports, as the environment names their bucket. */
export function bucketFiles(): ArchiveFiles {
  return s3Files(new S3Client({ ...CLIENT_OPTIONS, requestHandler }), setting(ENVIRONMENT.bucket));
}
