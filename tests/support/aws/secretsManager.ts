import * as z from 'zod';
import { jsonService, type LocalService, ServiceException } from './server.ts';

const readSchema = z.object({ SecretId: z.string() });

/** AWS Secrets Manager, as far as those see it who read secrets. */
export interface LocalSecrets extends LocalService {
  /** How often each has been read. */
  readonly reads: Map<string, number>;
}

export async function localSecrets(secrets: Readonly<Record<string, string>>): Promise<LocalSecrets> {
  const reads = new Map<string, number>();
  const service = await jsonService('secretsmanager', {
    GetSecretValue(input) {
      const { SecretId } = readSchema.parse(input);
      reads.set(SecretId, (reads.get(SecretId) ?? 0) + 1);
      const SecretString = secrets[SecretId];
      if (SecretString === undefined) throw new ServiceException('ResourceNotFoundException', SecretId);
      return { Name: SecretId, SecretString };
    },
  });
  return { ...service, reads };
}
