import type { CloudTopology } from '../../../infra/aws/cloudTopology.ts';
import type { FunctionSpec, Right } from '../../../infra/topology.ts';

/** A right as a line: what may be done, on what, and under which condition. */
type Line = string;

interface Deployed {
  readonly topology: CloudTopology;
  readonly hasMail: boolean;
  /** Tables of the catalogue that files are added to. */
  readonly tables: readonly string[];
  readonly stage: string;
}

/**
 * What the topology says that a function's role holds, worked out apart from how the stacks do it: the names of the
 * resources are those of the constructs.
 */
export function expectedRights(name: string, spec: FunctionSpec, deployed: Deployed): Line[] {
  const { topology } = deployed;
  return [
    ...on(`<${stackOf(spec)}/${idIn(spec, name)}/Log.Arn>`, 'logs:CreateLogStream', 'logs:PutLogEvents'),
    ...on('*', 'xray:PutTraceSegments', 'xray:PutTelemetryRecords'),
    ...('queue' in spec.source
      ? on(queue(spec.source.queue), 'sqs:ReceiveMessage', 'sqs:DeleteMessage', 'sqs:GetQueueAttributes')
      : []),
    ...('everyMinutes' in spec.source ? on('<Queues/FailedRuns.Arn>', 'sqs:SendMessage') : []),
    ...tableRights(spec),
    ...fileRights(spec),
    ...spec.sendsTo.flatMap((to) => on(queue(to), 'sqs:SendMessage')),
    ...spec.may.flatMap((right) => RIGHTS[right](deployed, Object.keys(topology.queues))),
  ];
}

function tableRights({ table }: FunctionSpec): Line[] {
  if (table === 'none') return [];
  const writes = ['PutItem', 'UpdateItem', 'DeleteItem', 'BatchWriteItem'].map((name) => `dynamodb:${name}`);
  return [
    ...on('<Data/Table.Arn>', 'dynamodb:GetItem', 'dynamodb:Query'),
    ...on('<Data/Table.Arn>/index/list', 'dynamodb:Query'),
    ...(table === 'readWrite' ? on('<Data/Table.Arn>', ...writes) : []),
    ...byKey('dynamodb', table === 'readWrite', 'kms:DescribeKey'),
  ];
}

function fileRights({ files, folders }: FunctionSpec): Line[] {
  if (files === 'none') return [];
  const all = ['facts', 'accounts', 'estimates', 'reports', 'trials'];
  const reads: readonly string[] = files === 'write' ? [] : (folders?.reads ?? all);
  const writes: readonly string[] = files === 'read' ? [] : (folders?.writes ?? all);
  const object = (folder: string) => `<Files/Files.Arn>/${folder}/*`;
  const prefixes = reads.map((folder) => `${folder}/*`);
  return [
    ...reads.flatMap((folder) => on(object(folder), 's3:GetObject')),
    ...(reads.length > 0
      ? [`s3:ListBucket on <Files/Files.Arn> if ${JSON.stringify({ StringLike: { 's3:prefix': prefixes } })}`]
      : []),
    ...writes.flatMap((folder) => on(object(folder), 's3:PutObject')),
    ...(files === 'readWrite' ? writes.flatMap((folder) => on(object(folder), 's3:DeleteObject')) : []),
    ...byKey('s3', writes.length > 0),
  ];
}

const RIGHTS: Readonly<Record<Right, (deployed: Deployed, queues: readonly string[]) => Line[]>> = {
  'send-mail': ({ hasMail }) => (hasMail ? on(MAIL_IDENTITY, 'ses:SendEmail', 'ses:SendRawEmail') : []),
  'send-sms': () => on('all but arn:<AWS::Partition>:sns:*:*:*', 'sns:Publish'),
  'dead-letters': (_, queues) =>
    queues.flatMap((name) => [
      ...on(queue(name), 'sqs:SendMessage'),
      ...on(dead(name), ...['sqs:ReceiveMessage', 'sqs:ChangeMessageVisibility', 'sqs:DeleteMessage']),
    ]),
  'answer-key': () => [
    ...on('<Data/AnswerKey>', 'secretsmanager:GetSecretValue'),
    ...byKey('secretsmanager', false),
  ],
  'operator-key': () => [
    ...on('<Data/OperatorKey>', 'secretsmanager:GetSecretValue'),
    ...byKey('secretsmanager', false),
  ],
  'start-trials': ({ stage }) => [
    ...on(ofAccount('states', `stateMachine:brinebell-${stage}-trials`), 'states:StartExecution'),
    ...on(ofAccount('states', `execution:brinebell-${stage}-trials:*`), 'states:DescribeExecution'),
  ],
  'register-partitions': ({ stage, tables }) =>
    [
      'catalog',
      `database/brinebell_${stage}`,
      ...tables.map((name) => `table/brinebell_${stage}/${name}`),
    ].flatMap((resource) => on(ofAccount('glue', resource), 'glue:BatchCreatePartition')),
  'meter-credentials': () => [
    ...on(ofAccount('iot', 'cert/*'), 'iot:UpdateCertificate'),
    ...on('*', 'iot:ListThingPrincipals', 'iot:DetachThingPrincipal', 'iot:DescribeEndpoint'),
  ],
};

const MAIL_IDENTITY = ofAccount('ses', 'identity/<Mail/From>');

function ofAccount(service: string, resource: string): string {
  return `arn:<AWS::Partition>:${service}:<AWS::Region>:<AWS::AccountId>:${resource}`;
}

function byKey(service: string, isWriting: boolean, ...others: readonly string[]): Line[] {
  const actions = ['kms:Decrypt', ...(isWriting ? ['kms:Encrypt', 'kms:GenerateDataKey'] : []), ...others];
  const condition = { StringEquals: { 'kms:ViaService': `${service}.<AWS::Region>.amazonaws.com` } };
  return actions.map((action) => `${action} on <Data/Key.Arn> if ${JSON.stringify(condition)}`);
}

function on(resource: string, ...actions: readonly string[]): Line[] {
  return actions.map((action) => `${action} on ${resource}`);
}

function queue(name: string): string {
  return `<Queues/${capital(name)}.Arn>`;
}

function dead(name: string): string {
  return `<Queues/${capital(name)}Dead.Arn>`;
}

/** Functions of signing in come before the others, in a stack of their own. */
export function stackOf({ source }: FunctionSpec): string {
  return 'signIn' in source ? 'Identity' : 'Functions';
}

export function idIn({ source }: FunctionSpec, name: string): string {
  return 'signIn' in source ? name : capital(name);
}

function capital(name: string): string {
  return `${name.charAt(0).toUpperCase()}${name.slice(1)}`;
}
