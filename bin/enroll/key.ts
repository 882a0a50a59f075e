import { readFile } from 'node:fs/promises';
import { idSchema } from '../../shared/ids.ts';
import { CommandError, reasonOf } from '../errors.ts';

/** A key of a company as the service makes it: `{companyId}~{name}.{secret}`; the name is a number, or `demo`. */
const KEY = /^([^~\s]+)~[\w-]+\.[\w-]+$/;

export interface CompanyKey {
  readonly key: string;
  readonly companyId: string;
}

/**
 * The key of a company that a file holds.
 *
 * @throws CommandError `input-unreadable`; `key-refused` if it holds something else, which is not shown
 */
export async function keyIn(path: string): Promise<CompanyKey> {
  const text = await readFile(path, 'utf8').catch((error) => {
    throw new CommandError(
      'input-unreadable',
      `${path}: ${reasonOf(error)}`,
      'Name the file that holds the key of the company, as --key-file.',
    );
  });
  const key = text.trim();
  const [, companyId = ''] = KEY.exec(key) ?? [];
  if (!idSchema.safeParse(companyId).success) {
    throw new CommandError(
      'key-refused',
      `${path} holds no key of a company`,
      'It should hold what POST /v1/companies or POST /v1/companies/{companyId}/keys answers with as key.',
    );
  }
  return { key, companyId };
}
