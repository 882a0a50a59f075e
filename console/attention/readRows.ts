import { service } from '../api/client.ts';
import type { AttentionRow } from '../api/types.ts';
import { CAUSE_WORDS, KIND_WORDS } from '../show/words.ts';
import { ROWS_A_PAGE, type Row } from './rows.ts';

/** Pages of the list, the worst first; each is a request of its own, so that the first rows show at once. */
export async function* pagesOfRows(signal: AbortSignal): AsyncGenerator<readonly Row[]> {
  let cursor: string | undefined;
  do {
    const page = await readPage(signal, cursor);
    yield page.rows;
    cursor = page.next;
  } while (cursor !== undefined);
}

export async function firstPage(signal: AbortSignal): Promise<readonly Row[]> {
  return (await readPage(signal)).rows;
}

async function readPage(signal: AbortSignal, cursor?: string) {
  const query = { limit: ROWS_A_PAGE, ...(cursor !== undefined && { cursor }) };
  const { data } = await service.GET('/v1/attention', { params: { query }, signal });
  if (!data) throw new Error('The service answered with nothing.');
  return { rows: data.items.map(searchable), next: data.next };
}

function searchable(row: AttentionRow): Row {
  const { siteName, siteId, unitId, region, sentence, kind, cause } = row;
  const words = [siteName, siteId, unitId, region, sentence, KIND_WORDS[kind], cause && CAUSE_WORDS[cause]];
  return { ...row, text: words.join(' ').toLowerCase() };
}
