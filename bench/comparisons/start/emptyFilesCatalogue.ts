import { GlueClient } from '@aws-sdk/client-glue';
import { S3Client } from '@aws-sdk/client-s3';
import { lookFor } from './lookFor.ts';

const client = new S3Client({});
/** Made, as ours is, and not asked for anything. */
export const glue = new GlueClient({});

export const handler = () => lookFor(client);
