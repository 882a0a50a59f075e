import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { CustomResource } from 'aws-cdk-lib';
import type { IBucket } from 'aws-cdk-lib/aws-s3';
import { Construct } from 'constructs';
import type { PublishProperties } from '../publish/event.ts';
import type { Stage } from '../stages.ts';
import { Lambda } from './lambda.ts';
import { allow } from './statements.ts';

interface ConsoleFilesProps {
  readonly stage: Stage;
  readonly bucket: IBucket;
  readonly bundles: string;
}

/** The folder among the bundles that holds the function and, beside it, the console's files. */
const BUNDLE = 'publish';
const TIMEOUT_SECONDS = 120;

/**
 * Puts the console's files into their bucket whenever they are deployed, and takes them off with the stack. The function
 * brings the files along in its own bundle, so that it need read nothing; it writes this bucket and no other. (The
 * toolkit's own construct for it may read every asset of the account and invalidate every distribution.) Nothing need be
 * invalidated: what has a hash in its name never changes, and the rest is asked for anew each time.
 */
export class ConsoleFiles extends Construct {
  constructor(scope: Construct, id: string, { stage, bucket, bundles }: ConsoleFilesProps) {
    super(scope, id);
    const lambda = new Lambda(this, 'Publish', {
      ...{ stage, bundles, bundle: BUNDLE, timeoutSeconds: TIMEOUT_SECONDS, environment: {} },
      statements: [
        allow(['s3:ListBucket'], [bucket.bucketArn]),
        allow(['s3:PutObject', 's3:DeleteObject'], [bucket.arnForObjects('*')]),
      ],
    });
    const properties: PublishProperties = {
      Bucket: bucket.bucketName,
      Version: hashOfFolder(join(bundles, BUNDLE)),
    };
    const published = new CustomResource(this, 'Files', {
      resourceType: 'Custom::ConsoleFiles',
      serviceToken: lambda.function.functionArn,
      properties: { ...properties },
    });
    // Its rights are taken away only after its last work.
    published.node.addDependency(lambda);
  }
}

/** Changes whenever a file does: CloudFormation calls a resource again only when its properties change. */
function hashOfFolder(folder: string): string {
  const hash = createHash('sha256');
  const files = readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map(({ parentPath, name }) => join(parentPath, name));
  for (const path of files.sort())
    hash.update(path.slice(folder.length)).update('\0').update(readFileSync(path));
  return hash.digest('hex');
}
