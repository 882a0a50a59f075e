import type { FunctionSpec, QueueSpec, Right } from '../topology.ts';

/** What sets a function off in the cloud. */
export type CloudSource =
  | { readonly queue: string }
  | { readonly everyMinutes: number }
  | { readonly http: true }
  | { readonly workflow: 'trial' }
  | { readonly provisioning: true }
  | { readonly signIn: true };

/** What a function may do beside the table, files and queues. */
export type CloudRight = Right | 'start-trials' | 'meter-credentials' | 'register-partitions';

export interface CloudFunctionSpec extends Omit<FunctionSpec, 'source' | 'sendsTo' | 'may'> {
  readonly source: CloudSource;
  readonly sendsTo: readonly string[];
  readonly may: readonly CloudRight[];
}

/** A workflow: `plan` once, `each` for every item of the JSON array at the path that it answers with, `sum` once. */
export interface WorkflowSpec {
  readonly plan: string;
  readonly each: string;
  readonly sum: string;
  /** Items at a time. */
  readonly concurrency: number;
  readonly attempts: number;
  readonly toleratedFailurePercentage: number;
}

/** The topology as the stacks take it: theirs to build, whatever is in it. */
export interface CloudTopology {
  readonly queues: Readonly<Record<string, QueueSpec>>;
  readonly functions: Readonly<Record<string, CloudFunctionSpec>>;
  readonly trial?: WorkflowSpec;
}

/** The functions of a kind of source, by name. */
export function functionsOf(
  { functions }: CloudTopology,
  kind: 'queue' | 'everyMinutes' | 'http' | 'workflow' | 'provisioning' | 'signIn',
): readonly (readonly [name: string, spec: CloudFunctionSpec])[] {
  return Object.entries(functions).filter(([, { source }]) => kind in source);
}
