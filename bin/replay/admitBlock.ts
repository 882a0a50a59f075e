import { isUtf8 } from 'node:buffer';
import { admit } from '../../shared/admission.ts';
import { MAX_EVENT_BYTES } from '../../shared/quarantine.ts';
import type { Admission } from '../../shared/verdict.ts';
import { type Block, eachLine } from './blocks.ts';
import type { Chunk } from './chunk.ts';
import type { Fleet } from './fleet.ts';
import { RejectionLines, type RejectionPart } from './rejectionLines.ts';
import { Sheaf } from './sheaf.ts';

/** What became of the lines of a block. */
export interface AdmittedBlock {
  /** How many there were, blank ones aside. */
  read: number;
  /** Those that were accepted. */
  chunk: Chunk;
  /** By unit, the last instant at which any of its lines became known; minus infinity if it has none. */
  lastKnown: Float64Array<ArrayBuffer>;
  /** Undefined if nothing was rejected. */
  rejected: RejectionPart | undefined;
}

/** Judges the lines of blocks. */
export class Admitter {
  readonly #fleet: Fleet;
  readonly #sheaf: Sheaf;

  constructor(fleet: Fleet) {
    this.#fleet = fleet;
    this.#sheaf = new Sheaf(fleet.units.length);
  }

  admit(block: Block): AdmittedBlock {
    const { byId, places, units } = this.#fleet;
    const { bytes, position } = block;
    const sheaf = this.#sheaf;
    const allUtf8 = isUtf8(bytes);
    const lastKnown = new Float64Array(units.length).fill(Number.NEGATIVE_INFINITY);
    let rejections: RejectionLines | undefined;
    let read = 0;
    eachLine(block, (start, end, line) => {
      read += 1;
      const raw = bytes.toString('utf8', start, Math.min(end, start + MAX_EVENT_BYTES));
      const admission = judge(raw, end - start, allUtf8 || isUtf8(bytes.subarray(start, end)), byId);
      if (admission.accepted) {
        const { fact } = admission;
        const place = places.get(admission.unit) ?? 0;
        sheaf.add(place, fact, line, position + start, end - start);
        if (fact.known > (lastKnown[place] ?? 0)) lastKnown[place] = fact.known;
      } else {
        rejections ??= new RejectionLines();
        rejections.add({ line, reason: admission.reason, detail: admission.detail, raw });
      }
    });
    return { read, chunk: sheaf.bind(), lastKnown, rejected: rejections?.part() };
  }
}

function judge(raw: string, bytes: number, utf8: boolean, units: Fleet['byId']): Admission {
  if (bytes > MAX_EVENT_BYTES) {
    return { accepted: false, reason: 'too-large', detail: `over ${MAX_EVENT_BYTES} bytes` };
  }
  // Decoded, different wrong bytes become the same character, which would make one id of two.
  if (!utf8) return { accepted: false, reason: 'not-json', detail: 'is not UTF-8' };
  return admit(raw, units);
}
