import { isDeepStrictEqual } from 'node:util';
import { createRoute } from '@hono/zod-openapi';
import * as z from 'zod';
import type { Store } from '../../lib/store/store.ts';
import { keysOf } from '../../shared/records.ts';
import {
  judgeRecords,
  type Records,
  RegistryError,
  readRecords,
  type UnitRecord,
} from '../../shared/registry.ts';
import { atOnce } from '../atOnce.ts';
import { changed } from '../send.ts';
import { type Api, json } from './api.ts';
import { mediaTypeOf, textOf } from './body.ts';
import { csvExample, recordExample } from './examples.ts';
import { Problem } from './problems.ts';
import { COLUMNS, recordsFromCsv } from './registryCsv.ts';

type RegistryType = 'application/json' | 'application/x-ndjson' | 'text/csv';

const CONTENT = {
  'application/json': {
    schema: { type: 'array', items: { $ref: '#/components/schemas/UnitRecord' } },
    example: [recordExample],
  },
  'application/x-ndjson': {
    schema: { type: 'string', description: 'One record a line' },
    example: `${JSON.stringify(recordExample)}\n`,
  },
  'text/csv': {
    schema: { type: 'string', description: `With the columns ${Object.keys(COLUMNS).join(', ')}` },
    example: csvExample,
  },
} as const satisfies Record<RegistryType, object>;
const TYPES = keysOf(CONTENT);

const importedSchema = z.object({
  accepted: z.int().describe('Records that stand now'),
  unchanged: z.int().describe('Of these, the ones that stood just so before'),
  problems: z
    .array(z.object({ record: z.int(), unitId: z.string().optional(), message: z.string() }))
    .describe('Records that were set aside; they count from 1'),
});

export function registryRoutes({ app, ports, access }: Api): void {
  const put = createRoute({
    method: 'put',
    path: '/v1/units',
    summary: 'Add or replace units',
    description: 'Each record is judged on its own: what is good stands, what is not is named.',
    ...access.owner,
    request: { body: { required: true, content: CONTENT } },
    responses: { 200: json(importedSchema, 'What became of each record') },
  });
  app.openapi(put, async (c) => {
    const { companyId } = c.var.caller;
    const { records, problems } = readImport(mediaTypeOf(c, TYPES), await textOf(c), companyId);
    const all = [...records.values()];
    const different = await changedAmong(ports.store, all);
    if (different.length > 0) {
      await ports.store.putRecords(companyId, different);
      await ports.queues.assess.send(different.map(changed));
    }
    return c.json(
      { accepted: all.length, unchanged: all.length - different.length, problems: [...problems] },
      200,
    );
  });
}

function readImport(type: RegistryType, text: string, companyId: string): Records {
  try {
    if (type !== 'text/csv') return readRecords(text, companyId);
    return judgeRecords(recordsFromCsv(text, companyId), companyId);
  } catch (error) {
    if (!(error instanceof RegistryError)) throw error;
    throw new Problem('registry-unreadable', error.message);
  }
}

/** The records that do not stand just so already. */
async function changedAmong(store: Store, records: readonly UnitRecord[]): Promise<UnitRecord[]> {
  const changed = await atOnce(16, records, async (record) => {
    const { record: stands } = await store.unit(record, { fresh: true });
    return isDeepStrictEqual(stands, record) ? [] : [record];
  });
  return changed.flat();
}
