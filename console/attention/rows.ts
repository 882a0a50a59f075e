import type { AttentionRow } from '../api/types.ts';

/** A unit that needs attention, with all that a search may find it by, in lower case. */
export type Row = AttentionRow & { readonly text: string };

/** The most rows that one request brings. */
export const ROWS_A_PAGE = 1_000;

/** Whether the list has more than what one request brings. */
export function isLong(rows: readonly Row[]): boolean {
  return rows.length > ROWS_A_PAGE;
}

/**
 * Puts a fresh first page before what is known. A unit that was among the worst and no longer is, is left out: it has
 * cleared, or comes back further down when the whole list is read again.
 */
export function withFirstPage(known: readonly Row[], fresh: readonly Row[]): readonly Row[] {
  const last = fresh.at(-1);
  if (!last) return fresh;
  const isFresh = new Set(fresh.map(({ unitId }) => unitId));
  return [...fresh, ...known.filter(({ unitId, weight }) => weight < last.weight && !isFresh.has(unitId))];
}
