import * as z from 'zod';
import { type LocalService, localService } from './server.ts';

/** AWS Secrets Manager, as far as those see it who read secrets. */
export interface LocalSecrets extends LocalService {
  /** How often each has been read. */
  readonly reads: Map<string, number>;
}

export async function localSecrets(secrets: Readonly<Record<string, string>>): Promise<LocalSecrets> {
  const reads = new Map<string, number>();
  const service = await localService(({ headers, body }) => {
    if (headers['x-amz-target'] !== 'secretsmanager.GetSecretValue')
      throw new Error('only reading is known here');
    const { SecretId } = z.object({ SecretId: z.string() }).parse(JSON.parse(body.toString()));
    reads.set(SecretId, (reads.get(SecretId) ?? 0) + 1);
    const SecretString = secrets[SecretId];
    if (SecretString === undefined) {
      return {
        status: 400,
        body: JSON.stringify({ __type: 'ResourceNotFoundException', Message: SecretId }),
      };
    }
    return {
      headers: { 'content-type': 'application/x-amz-json-1.1' },
      body: JSON.stringify({ Name: SecretId, SecretString }),
    };
  });
  return { ...service, reads };
}

/** A mail that Amazon SES has taken. */
export interface Mail {
  readonly to: readonly string[];
  readonly text: string;
}

const mailSchema = z.object({
  Destination: z.object({ ToAddresses: z.array(z.string()).min(1) }),
  Content: z.object({ Raw: z.object({ Data: z.base64() }) }),
});

/** Amazon SES, as far as those see it who send raw mails: version 2 of its API. */
export async function localSes(): Promise<LocalService & { readonly mails: Mail[] }> {
  const mails: Mail[] = [];
  const service = await localService(({ method, path, body }) => {
    if (method !== 'POST' || path !== '/v2/email/outbound-emails') throw new Error(`there is no ${path}`);
    const { Destination, Content } = mailSchema.parse(JSON.parse(body.toString()));
    mails.push({ to: Destination.ToAddresses, text: Buffer.from(Content.Raw.Data, 'base64').toString() });
    return {
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ MessageId: `m-${mails.length}` }),
    };
  });
  return { ...service, mails };
}

/** Amazon SNS, as far as those see it who send short messages: its query protocol. */
export async function localSns(): Promise<
  LocalService & { readonly messages: { to: string; text: string }[] }
> {
  const messages: { to: string; text: string }[] = [];
  const service = await localService(({ body }) => {
    const form = new URLSearchParams(body.toString());
    if (form.get('Action') !== 'Publish') throw new Error(`there is no ${form.get('Action')}`);
    messages.push({ to: form.get('PhoneNumber') ?? '', text: form.get('Message') ?? '' });
    return {
      body: '<PublishResponse><PublishResult><MessageId>1</MessageId></PublishResult></PublishResponse>',
    };
  });
  return { ...service, messages };
}

/** The catalogue of AWS Glue, as far as those see it who tell it of partitions; it has no other tables. */
export async function localGlue(): Promise<LocalService & { readonly partitions: Set<string> }> {
  const partitions = new Set<string>();
  const service = await localService(({ headers, body }) => {
    if (headers['x-amz-target'] !== 'AWSGlue.BatchCreatePartition')
      throw new Error('only adding is known here');
    const { DatabaseName, TableName, PartitionInputList } = partitionSchema.parse(
      JSON.parse(body.toString()),
    );
    const Errors = PartitionInputList.flatMap(({ Values }) => {
      const name = [DatabaseName, TableName, ...Values].join('/');
      if (!partitions.has(name)) {
        partitions.add(name);
        return [];
      }
      return [{ PartitionValues: Values, ErrorDetail: { ErrorCode: 'AlreadyExistsException' } }];
    });
    return { headers: { 'content-type': 'application/x-amz-json-1.1' }, body: JSON.stringify({ Errors }) };
  });
  return { ...service, partitions };
}

const partitionSchema = z.object({
  DatabaseName: z.string(),
  TableName: z.string(),
  PartitionInputList: z.array(z.object({ Values: z.array(z.string()) })),
});

/** AWS Step Functions, as far as those see it who start executions: it keeps their inputs, and none ever ends by itself. */
export async function localSteps(): Promise<LocalService & { readonly inputs: Map<string, string> }> {
  const inputs = new Map<string, string>();
  const service = await localService(({ headers, body }) => {
    const asked = JSON.parse(body.toString());
    if (headers['x-amz-target'] === 'AWSStepFunctions.StartExecution') {
      const { stateMachineArn, name, input } = startSchema.parse(asked);
      const executionArn = `${stateMachineArn.replace(':stateMachine:', ':execution:')}:${name}`;
      inputs.set(executionArn, input);
      return { body: JSON.stringify({ executionArn, startDate: 1 }) };
    }
    const { executionArn } = z.object({ executionArn: z.string() }).parse(asked);
    if (inputs.has(executionArn)) return { body: JSON.stringify({ executionArn, status: 'RUNNING' }) };
    return {
      status: 400,
      body: JSON.stringify({ __type: 'ExecutionDoesNotExist', message: executionArn }),
    };
  });
  return { ...service, inputs };
}

const startSchema = z.object({ stateMachineArn: z.string(), name: z.string(), input: z.string() });
