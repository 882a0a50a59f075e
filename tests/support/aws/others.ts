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
