import { MAX_EVENT_BYTES } from '../shared/quarantine.ts';

/**
 * What a meter published, as the line that is judged. Bytes that are no UTF-8 become replacement characters. Of a payload
 * that is too large so much is kept that it is still seen to be.
 */
export function lineOf(payload: string | Buffer): string {
  const line = typeof payload === 'string' ? payload : payload.toString('utf8');
  const isLarge = Buffer.byteLength(payload) > MAX_EVENT_BYTES;
  return isLarge ? line.slice(0, MAX_EVENT_BYTES).padEnd(MAX_EVENT_BYTES + 1, '…') : line;
}
