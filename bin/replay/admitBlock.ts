import { isUtf8 } from 'node:buffer';
import type { Received } from '../../lib/replay/received.ts';
import { type Admission, admit } from '../../shared/admission.ts';
import { MAX_EVENT_BYTES, type Rejection } from '../../shared/quarantine.ts';
import { type Block, eachLine } from './blocks.ts';
import type { Fleet } from './fleet.ts';

/** Where the lines of a block go. */
export interface Takers {
  /** An accepted one, with the place of its unit in the registry. */
  accept(place: number, received: Received): void;
  reject(rejection: Rejection): void;
}

/** Judges each line of a block. Returns how many there were, blank ones aside. */
export function admitBlock(block: Block, fleet: Fleet, takers: Takers): number {
  const { bytes } = block;
  const allUtf8 = isUtf8(bytes);
  let read = 0;
  eachLine(block, (start, end, line) => {
    read += 1;
    const raw = bytes.toString('utf8', start, Math.min(end, start + MAX_EVENT_BYTES));
    const admission = judge(raw, end - start, allUtf8 || isUtf8(bytes.subarray(start, end)), fleet);
    if (admission.accepted) {
      takers.accept(fleet.places.get(admission.unit) ?? -1, { line, raw, fact: admission.fact });
    } else {
      takers.reject({ line, reason: admission.reason, detail: admission.detail, raw });
    }
  });
  return read;
}

function judge(raw: string, bytes: number, utf8: boolean, fleet: Fleet): Admission {
  if (bytes > MAX_EVENT_BYTES) {
    return { accepted: false, reason: 'too-large', detail: `over ${MAX_EVENT_BYTES} bytes` };
  }
  // Decoded, different wrong bytes become the same character, which would make one id of two.
  if (!utf8) return { accepted: false, reason: 'not-json', detail: 'is not UTF-8' };
  return admit(raw, fleet.byId);
}
