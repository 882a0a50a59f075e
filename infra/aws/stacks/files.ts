import { Duration, RemovalPolicy, Stack, type StackProps } from 'aws-cdk-lib';
import type { Key } from 'aws-cdk-lib/aws-kms';
import {
  BucketEncryption,
  type IBucket,
  type LifecycleRule,
  ObjectLockRetention,
  ObjectOwnership,
  StorageClass,
} from 'aws-cdk-lib/aws-s3';
import type { Construct } from 'constructs';
import type { Folder } from '../../topology.ts';
import type { Stage } from '../stages.ts';
import { newBucket } from './newBucket.ts';

interface FilesProps extends StackProps {
  readonly stage: Stage;
  readonly key: Key;
  readonly objectLockDays?: number | undefined;
}

/** A trial of rules is looked at while it is discussed; a guess, no source. */
const TRIAL_DAYS = 90;
/** Facts are read for the current months; a guess, no source. */
const COLD_AFTER_DAYS = 180;

/** The archive and reports, and who has asked for what of them. */
export class FilesStack extends Stack {
  readonly bucket: IBucket;
  readonly accessLogs: IBucket;

  constructor(scope: Construct, id: string, { stage, key, objectLockDays, ...props }: FilesProps) {
    super(scope, id, props);
    // Access to it is not logged: that would go round in a circle.
    this.accessLogs = newBucket(this, 'AccessLogs', {
      // Amazon S3 and Amazon CloudFront write logs with keys of Amazon S3 only, the latter by an access control list.
      encryption: BucketEncryption.S3_MANAGED,
      objectOwnership: ObjectOwnership.BUCKET_OWNER_PREFERRED,
      lifecycleRules: [
        { expiration: Duration.days(stage.logDays), abortIncompleteMultipartUploadAfter: Duration.days(1) },
      ],
      removalPolicy: RemovalPolicy.RETAIN,
    });
    this.bucket = newBucket(this, 'Files', {
      encryption: BucketEncryption.KMS,
      encryptionKey: key,
      bucketKeyEnabled: true,
      versioned: true,
      serverAccessLogsBucket: this.accessLogs,
      serverAccessLogsPrefix: 'files/',
      lifecycleRules: lifecycle(stage),
      removalPolicy: RemovalPolicy.RETAIN,
      ...(objectLockDays !== undefined && {
        objectLockEnabled: true,
        objectLockDefaultRetention: ObjectLockRetention.governance(Duration.days(objectLockDays)),
      }),
    });
  }
}

function lifecycle({ oldFileDays }: Stage): LifecycleRule[] {
  const prefix = (folder: Folder) => `${folder}/`;
  return [
    {
      id: 'old-versions',
      noncurrentVersionExpiration: Duration.days(oldFileDays),
      expiredObjectDeleteMarker: true,
      abortIncompleteMultipartUploadAfter: Duration.days(1),
    },
    { id: 'trials', prefix: prefix('trials'), expiration: Duration.days(TRIAL_DAYS) },
    {
      id: 'cold-facts',
      prefix: prefix('facts'),
      transitions: [
        { storageClass: StorageClass.INFREQUENT_ACCESS, transitionAfter: Duration.days(COLD_AFTER_DAYS) },
      ],
    },
  ];
}
