import type { z } from 'zod';
import type { ArchiveFiles } from '../../lib/archive/files.ts';
import { TrialError, type TrialFailure } from '../../lib/trial/errors.ts';
import { firstIssue } from '../../shared/zodIssue.ts';

/** What a trial reads and writes, as text and JSON. */
export async function textAt(files: ArchiveFiles, path: string): Promise<string> {
  const file = await files.open(path);
  return new TextDecoder().decode(await file.slice(0));
}

/** A file of JSON that fits a schema. Throws as opening does, or a TrialError `fault`. */
export async function jsonAt<Schema extends z.ZodType>(
  files: ArchiveFiles,
  path: string,
  schema: Schema,
): Promise<z.output<Schema>> {
  return fitting(JSON.parse(await textAt(files, path)), schema, 'fault');
}

/** Whether there is such a file. */
export async function isThere(files: ArchiveFiles, path: string): Promise<boolean> {
  return (await files.list(path)).includes(path);
}

/**
 * A value that fits a schema.
 *
 * @throws TrialError with that code if it does not
 */
export function fitting<Schema extends z.ZodType>(
  value: unknown,
  schema: Schema,
  code: TrialFailure,
): z.output<Schema> {
  const parsed = schema.safeParse(value);
  if (!parsed.success) throw new TrialError(code, firstIssue(parsed.error));
  return parsed.data;
}
