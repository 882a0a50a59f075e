import type { QueueName } from '../../topology.ts';
import type { QueuePair } from './queues.ts';

/** What functions can be given rights to, and how they are told where it is. */
export interface Holdings {
  readonly table: { readonly name: string; readonly arn: string; readonly indexArn: string };
  readonly bucket: { readonly name: string; readonly arn: string };
  /** By what table, files and secrets are encrypted. */
  readonly keyArn: string;
  readonly queues: Readonly<Record<QueueName, QueuePair>>;
  readonly answerKeyArn: string;
  readonly operatorKeyArn: string;
  readonly mail: { readonly from: string; readonly identityArn: string } | undefined;
  readonly publicUrl: string;
  readonly signIn: { readonly issuer: string; readonly clientId: string };
  /** The template by which meters claim their certificates. */
  readonly claimTemplate: string;
  /** The archive's catalogue, and its tables that files are added to. */
  readonly catalogue: { readonly name: string; readonly tables: readonly string[] };
  /** The workflow of rule trials, and its runs. */
  readonly trials: { readonly machineArn: string; readonly runsArn: string };
}
