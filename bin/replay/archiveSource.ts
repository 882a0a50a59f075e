import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import { archiveFolder } from '../../infra/local/archiveFolder.ts';
import { ArchiveError } from '../../lib/archive/errors.ts';
import { readFacts } from '../../lib/archive/readFacts.ts';
import { chunks } from '../../shared/chunks.ts';
import { CommandError, codeOf, reasonOf } from '../errors.ts';
import { readText, type Source } from './source.ts';
import { registryOf } from './withReceived.ts';

/** Units whose events are held at a time. */
const UNITS_AT_ONCE = 200;

/**
 * What a service has archived of the units of a registry, as a stream of lines.
 *
 * @param data the service's data folder; it may be at work there
 * @throws CommandError `input-unreadable` if there is no archive in it, and as reading a registry does
 */
export async function archiveSource(data: string, units: string): Promise<Source> {
  const folder = join(data, 'archive');
  try {
    await stat(folder);
  } catch (error) {
    throw new CommandError(
      'input-unreadable',
      `cannot read ${folder}: ${reasonOf(error)}`,
      'Name the folder that a service was started with as --data.',
    );
  }
  const registry = registryOf(units, await readText(units), 'Nothing was read.');
  const byCompany = new Map<string, string[]>();
  for (const { companyId, unitId } of registry.units.values())
    byCompany.set(companyId, [...(byCompany.get(companyId) ?? []), unitId]);
  let read = 0;
  async function* bytes(): AsyncGenerator<Buffer> {
    const files = archiveFolder(folder);
    for (const [companyId, ids] of byCompany) {
      for (const some of chunks(ids.sort(), UNITS_AT_ONCE)) {
        const [first = ''] = some;
        for await (const { lines } of readFacts(files, companyId, {
          from: first,
          to: some.at(-1) ?? first,
        })) {
          const chunk = Buffer.from(lines.map((line) => `${line}\n`).join(''));
          read += chunk.length;
          yield chunk;
        }
      }
    }
  }
  async function* toTheirEnd(): AsyncGenerator<Buffer> {
    try {
      yield* bytes();
    } catch (error) {
      if (!(error instanceof ArchiveError) && codeOf(error) !== 'ENOENT') throw error;
      throw new CommandError(
        'input-broken',
        `${folder} could not be read to its end: ${reasonOf(error)}`,
        'If the service merged files meanwhile, try again.',
      );
    }
  }
  return { name: folder, totalBytes: undefined, bytesRead: () => read, bytes: toTheirEnd };
}
