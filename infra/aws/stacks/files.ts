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
  /** Where Amazon CloudFront writes. */
  readonly edgeLogs: IBucket;

  constructor(scope: Construct, id: string, { stage, key, objectLockDays, ...props }: FilesProps) {
    super(scope, id, props);
    const logs = {
      // Amazon S3 and Amazon CloudFront write logs with keys of Amazon S3 only.
      encryption: BucketEncryption.S3_MANAGED,
      lifecycleRules: [
        { expiration: Duration.days(stage.logDays), abortIncompleteMultipartUploadAfter: Duration.days(1) },
      ],
      removalPolicy: RemovalPolicy.RETAIN,
    };
    // Access to it is not logged: that would go round in a circle. Amazon S3 writes there by its policy, which is not there
    // yet when the first bucket names it: with access control lists S3 might look for its right in one, and refuse (S3 User
    // Guide, "Enabling Amazon S3 server access logging").
    this.accessLogs = newBucket(this, 'AccessLogs', {
      ...logs,
      objectOwnership: ObjectOwnership.BUCKET_OWNER_ENFORCED,
    });
    // Amazon CloudFront writes by such a list and by nothing else: CloudFront Developer Guide, "Configure standard logging
    // (legacy)".
    this.edgeLogs = newBucket(this, 'EdgeLogs', {
      ...logs,
      objectOwnership: ObjectOwnership.BUCKET_OWNER_PREFERRED,
      serverAccessLogsBucket: this.accessLogs,
      serverAccessLogsPrefix: 'edge/',
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
