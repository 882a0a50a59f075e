import { S3Client } from '@aws-sdk/client-s3';
import { lookFor } from './lookFor.ts';

const client = new S3Client({});

export const handler = () => lookFor(client);
