import { GlueClient } from '@aws-sdk/client-glue';
import type { ArchiveFiles } from '../../../lib/archive/files.ts';
import { ENVIRONMENT } from '../environment.ts';
import { CLIENT_OPTIONS } from './clientOptions.ts';
import { bucketFiles } from './files.ts';
import { registeredFiles } from './registeredFiles.ts';
import { setting } from './setting.ts';

/** The files of the bucket, of which SQL is told. */
export function archiveFiles(): ArchiveFiles {
  return registeredFiles(bucketFiles(), {
    client: new GlueClient(CLIENT_OPTIONS),
    database: setting(ENVIRONMENT.catalogue),
    bucket: setting(ENVIRONMENT.bucket),
  });
}
