import type { Credential } from '../../shared/credential.ts';

/** The columns of the file of credentials; what one kind of credential does not have is empty. */
export const COLUMNS = [
  ...['company_id', 'unit_id', 'kind', 'username', 'password', 'claim_code', 'expires_at'],
  ...['thing_name', 'endpoint', 'template', 'topic', 'service', 'issued_at'],
] as const;

export type Row = Readonly<Record<(typeof COLUMNS)[number], string>>;

interface Issued {
  readonly companyId: string;
  readonly unitId: string;
  readonly credential: Credential;
  readonly service: string;
  readonly at: Date;
}

export function rowOf({ companyId, unitId, credential, service, at }: Issued): Row {
  const none = { username: '', password: '', claim_code: '', expires_at: '', thing_name: '', endpoint: '' };
  const own =
    credential.kind === 'password'
      ? { username: credential.username, password: credential.password }
      : {
          claim_code: credential.claimCode,
          expires_at: credential.expiresAt,
          thing_name: credential.thingName,
          endpoint: credential.endpoint,
          template: credential.template,
        };
  return {
    ...{ company_id: companyId, unit_id: unitId, kind: credential.kind },
    ...none,
    template: '',
    ...own,
    ...{ topic: credential.topic, service, issued_at: at.toISOString() },
  };
}
