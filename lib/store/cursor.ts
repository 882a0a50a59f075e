import { StoreError } from './errors.ts';

/** Writes where a page ended as an opaque text: the partition, and the keys of the last item of it. */
export function encodeCursor(partition: string, keys: readonly string[]): string {
  return Buffer.from(JSON.stringify([partition, ...keys])).toString('base64url');
}

/**
 * Reads where to go on. A cursor comes back from whoever asks, so nothing of it is believed but a place within the
 * partition that is asked for.
 *
 * @throws StoreError `refused` if it is none, or one of another partition
 */
export function decodeCursor(cursor: string, partition: string, keys: number): string[] {
  const parts = partsOf(cursor);
  if (parts?.length !== keys + 1 || parts[0] !== partition) {
    throw new StoreError('refused', 'this cursor does not belong to what is asked for: begin without one');
  }
  return parts.slice(1);
}

function partsOf(cursor: string): string[] | undefined {
  try {
    const parts: unknown = JSON.parse(Buffer.from(cursor, 'base64url').toString());
    return Array.isArray(parts) && parts.every((part) => typeof part === 'string' && part !== '')
      ? parts
      : undefined;
  } catch {
    return undefined;
  }
}
