import { HeadObjectCommand, NotFound, type S3Client } from '@aws-sdk/client-s3';
import { ENVIRONMENT } from '../../../infra/aws/environment.ts';

/** Looks for one file, which is not there. */
export async function lookFor(client: S3Client): Promise<void> {
  try {
    await client.send(new HeadObjectCommand({ Bucket: process.env[ENVIRONMENT.bucket], Key: 'nothing' }));
  } catch (error) {
    if (!(error instanceof NotFound)) throw error;
  }
}
