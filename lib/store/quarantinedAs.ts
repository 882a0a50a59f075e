import { createHash } from 'node:crypto';
import { MAX_RAW_CHARACTERS } from '../../shared/quarantine.ts';
import { clip } from './clip.ts';
import type { Quarantined } from './store.ts';

const MAX_DETAIL_CHARACTERS = 512;

/** How much of a message is kept, and under which key: the same for the same message, and in the order of receipt. */
export function quarantinedAs(message: Quarantined): { key: string; kept: Quarantined } {
  const { sender, reason, raw, detail, receivedAt } = message;
  const content = createHash('sha256').update(JSON.stringify([sender, reason, raw]));
  return {
    key: `${String(receivedAt).padStart(13, '0')}#${content.digest('base64url').slice(0, 16)}`,
    kept: { ...message, raw: clip(raw, MAX_RAW_CHARACTERS), detail: clip(detail, MAX_DETAIL_CHARACTERS) },
  };
}
