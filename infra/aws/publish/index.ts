import { fileURLToPath } from 'node:url';
import { S3Client } from '@aws-sdk/client-s3';
import type { PublishEvent } from './event.ts';
import { publish } from './publish.ts';

const s3 = new S3Client({});
/** Beside this file once it is bundled. */
const folder = fileURLToPath(new URL('console', import.meta.url));

/** Called by CloudFormation, which waits until it is told how that went. */
export async function handler(event: PublishEvent): Promise<void> {
  const failure = await publish(event, { s3, folder, now: Date.now }).then(
    () => undefined,
    (error: unknown) => (error instanceof Error ? `${error.name}: ${error.message}` : String(error)),
  );
  const response = await fetch(event.ResponseURL, {
    method: 'PUT',
    body: JSON.stringify({
      Status: failure === undefined ? 'SUCCESS' : 'FAILED',
      Reason: failure ?? 'done',
      // Of the bucket: where that is another one, CloudFormation has the old one cleared.
      PhysicalResourceId: `console-files-${event.ResourceProperties.Bucket}`,
      StackId: event.StackId,
      RequestId: event.RequestId,
      LogicalResourceId: event.LogicalResourceId,
    }),
  });
  if (!response.ok) throw new Error(`CloudFormation does not take the answer: ${response.status}`);
}
