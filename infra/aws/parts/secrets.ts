import { CLIENT_OPTIONS } from './clientOptions.ts';
import { later } from './later.ts';

/** Thrown where a secret has no words. */
class SecretError extends Error {
  readonly code = 'secret-empty';
}

/**
 * A secret of AWS Secrets Manager, read when it is first needed and remembered by this process. Nothing is made where there
 * is none: the stack makes it.
 *
 * @param id its name or ARN
 */
export function secret(id: string): () => Promise<string> {
  return later(() => read(id));
}

async function read(id: string): Promise<string> {
  // Only now: few invocations need it.
  const { GetSecretValueCommand, SecretsManagerClient } = await import('@aws-sdk/client-secrets-manager');
  const client = new SecretsManagerClient(CLIENT_OPTIONS);
  const { SecretString } = await client.send(new GetSecretValueCommand({ SecretId: id }));
  client.destroy();
  const words = SecretString?.trim() ?? '';
  if (words === '') throw new SecretError(`the secret ${id} is empty: put 32 random bytes or more into it`);
  return words;
}
