import type { Stack } from 'aws-cdk-lib';
import { PolicyStatement } from 'aws-cdk-lib/aws-iam';
import type { Folder, FunctionSpec } from '../../topology.ts';
import type { Holdings } from './holdings.ts';
import { rightStatements } from './rights.ts';

/** What lib/store and functions/sentNotices.ts send to the table; a test reads their sources for it. */
const TABLE_READS = ['GetItem', 'Query'];
const TABLE_WRITES = ['PutItem', 'UpdateItem', 'DeleteItem', 'BatchWriteItem'];

/** All there are, for functions that do not say. */
const FOLDERS: readonly Folder[] = ['facts', 'accounts', 'estimates', 'reports', 'trials'];

/**
 * What a function's role may do: what the topology says of it, and no more.
 *
 * @param stack where the role is, for the names of region and account
 */
export function statementsOf(stack: Stack, spec: FunctionSpec, holdings: Holdings): PolicyStatement[] {
  return [
    ...sourceStatements(spec, holdings),
    ...tableStatements(stack, spec, holdings),
    ...fileStatements(stack, spec, holdings),
    ...spec.sendsTo.map((name) => allow(['sqs:SendMessage'], [holdings.queues[name].queue.queueArn])),
    ...spec.may.flatMap((right) => rightStatements(right, stack, holdings)),
  ];
}

/** AWS Lambda Developer Guide, "Using Lambda with Amazon SQS", execution role permissions. */
function sourceStatements({ source }: FunctionSpec, holdings: Holdings): PolicyStatement[] {
  if (!('queue' in source)) return [];
  const actions = ['sqs:ReceiveMessage', 'sqs:DeleteMessage', 'sqs:GetQueueAttributes'];
  return [allow(actions, [holdings.queues[source.queue].queue.queueArn])];
}

function tableStatements(
  stack: Stack,
  { table: level }: FunctionSpec,
  { table, keyArn }: Holdings,
): PolicyStatement[] {
  if (level === 'none') return [];
  const isWriting = level === 'readWrite';
  const actions = [...TABLE_READS, ...(isWriting ? TABLE_WRITES : [])].map((name) => `dynamodb:${name}`);
  return [
    allow(actions, [table.arn]),
    allow(['dynamodb:Query'], [table.indexArn]),
    // DynamoDB asks for the key by its users' own rights, and AWS wants this of all of them: Amazon DynamoDB Developer Guide,
    // "Authorizing use of your customer managed key" (so says the toolkit's own `grantReadData`, too).
    useOfKey(stack, keyArn, 'dynamodb', isWriting, ['kms:DescribeKey']),
  ];
}

function fileStatements(
  stack: Stack,
  { files, folders }: FunctionSpec,
  { bucket, keyArn }: Holdings,
): PolicyStatement[] {
  if (files === 'none') return [];
  const reads = files === 'write' ? [] : (folders?.reads ?? FOLDERS);
  const writes = files === 'read' ? [] : (folders?.writes ?? FOLDERS);
  const within = (names: readonly Folder[]) => names.map((name) => `${bucket.arn}/${name}/*`);
  const listing = allow(['s3:ListBucket'], [bucket.arn]);
  listing.addCondition('StringLike', { 's3:prefix': reads.map((name) => `${name}/*`) });
  return [
    ...(reads.length > 0 ? [allow(['s3:GetObject'], within(reads)), listing] : []),
    ...(writes.length > 0 ? [allow(['s3:PutObject'], within(writes))] : []),
    // What can be listed can be tidied away.
    ...(files === 'readWrite' && writes.length > 0 ? [allow(['s3:DeleteObject'], within(writes))] : []),
    useOfKey(stack, keyArn, 's3', writes.length > 0),
  ];
}

/** Use of the key through one service only: what a role cannot read there it cannot decrypt either. */
export function useOfKey(
  stack: Stack,
  keyArn: string,
  service: string,
  isWriting: boolean,
  others: readonly string[] = [],
): PolicyStatement {
  const actions = ['kms:Decrypt', ...(isWriting ? ['kms:Encrypt', 'kms:GenerateDataKey'] : []), ...others];
  const statement = allow(actions, [keyArn]);
  statement.addCondition('StringEquals', { 'kms:ViaService': `${service}.${stack.region}.amazonaws.com` });
  return statement;
}

export function allow(actions: readonly string[], resources: readonly string[]): PolicyStatement {
  return new PolicyStatement({ actions: [...actions], resources: [...resources] });
}
