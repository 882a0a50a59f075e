import { readFile, rename, writeFile } from 'node:fs/promises';
import * as z from 'zod';
import { formatInstant, type Instant, parseInstant } from '../../../shared/time/instant.ts';
import { instantSchema } from '../../../shared/time/instantSchema.ts';
import { formatLocalDate, type LocalDate, parseLocalDate } from '../../../shared/time/localDate.ts';

/** How far a demonstration has come. */
export interface DemoState {
  /** Its first local day. */
  readonly start: LocalDate;
  /** Up to when its meters have told everything. */
  readonly until: Instant;
}

const stateSchema = z.object({ start: z.iso.date(), until: instantSchema });

/** What is in the file; undefined where there is none. */
export async function readState(path: string): Promise<DemoState | undefined> {
  let text: string;
  try {
    text = await readFile(path, 'utf8');
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return undefined;
    throw error;
  }
  const { start, until } = stateSchema.parse(JSON.parse(text));
  return { start: parseLocalDate(start) ?? 0, until: parseInstant(until) ?? 0 };
}

export async function writeState(path: string, { start, until }: DemoState): Promise<void> {
  const text = JSON.stringify({ start: formatLocalDate(start), until: formatInstant(until) });
  await writeFile(`${path}.unfinished`, `${text}\n`);
  await rename(`${path}.unfinished`, path);
}
