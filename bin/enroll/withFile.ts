import { CommandError } from '../errors.ts';
import { CredentialFile } from './credentialFile.ts';
import type { Row } from './credentialRow.ts';
import { Journal } from './journal.ts';

/** Whose credentials a file is to hold. */
export interface Whose {
  readonly companyId: string;
  /** The service's address. */
  readonly url: string;
}

/**
 * What a file of credentials holds.
 *
 * @throws CommandError `output-unusable` if it is none, or another company's or service's
 */
export async function rowsOf(path: string, whose: Whose): Promise<ReadonlyMap<string, Row>> {
  const rows = await CredentialFile.rows(path);
  for (const row of rows.values()) mustBeOf(path, row, whose);
  return rows;
}

/**
 * Works with a file of credentials, which nobody else does meanwhile. Where the work breaks off, the journal beside the file
 * stays for the next run.
 */
export async function withFile<Result>(
  path: string,
  whose: Whose,
  work: (file: CredentialFile, journal: Journal) => Promise<Result>,
): Promise<Result> {
  const journal = await Journal.open(path);
  try {
    await rowsOf(path, whose);
    const file = await CredentialFile.open(path);
    try {
      const result = await work(file, journal);
      await journal.remove();
      return result;
    } finally {
      await file.close();
    }
  } catch (error) {
    await journal.leave();
    throw error;
  }
}

function mustBeOf(path: string, { company_id, service }: Row, { companyId, url }: Whose): void {
  if (company_id === companyId && service === url) return;
  throw new CommandError(
    'output-unusable',
    `${path} holds credentials of ${company_id} at ${service}, and these are of ${companyId} at ${url}`,
    'Choose another file for --out; or give the address of before as --service.',
  );
}
