import { BlockPublicAccess, Bucket, type BucketProps, type IBucket } from 'aws-cdk-lib/aws-s3';
import type { Construct } from 'constructs';

/** A bucket that is private and is spoken to by TLS only. */
export function newBucket(scope: Construct, id: string, props: BucketProps): IBucket {
  const bucket = new Bucket(scope, id, {
    ...props,
    blockPublicAccess: BlockPublicAccess.BLOCK_ALL,
    enforceSSL: true,
  });
  // It is one, but its types were made without `exactOptionalPropertyTypes`: `isWebsite` is spelt out as undefined.
  return bucket as IBucket;
}
