import { MAX_RAW_CHARACTERS, type QuarantineReason, type Rejection } from '../../shared/quarantine.ts';

/** Some lines of rejected.ndjson, and how many there are for each reason. */
export interface RejectionPart {
  bytes: Uint8Array<ArrayBuffer>;
  counts: ReadonlyMap<QuarantineReason, number>;
}

/** Gathers the rejections of a block. */
export class RejectionLines {
  readonly #counts = new Map<QuarantineReason, number>();
  #text = '';

  add(rejection: Rejection): void {
    this.#counts.set(rejection.reason, (this.#counts.get(rejection.reason) ?? 0) + 1);
    this.#text += rejectionLine(rejection);
  }

  part(): RejectionPart {
    // Of its own memory, as a small Buffer is not: it is handed over to another thread.
    return { bytes: new TextEncoder().encode(this.#text), counts: this.#counts };
  }
}

/** A line of rejected.ndjson. */
export function rejectionLine({ line, reason, detail, raw }: Rejection): string {
  return `${JSON.stringify({ line, reason, detail, raw: beginningOf(raw) })}\n`;
}

/** The first 1,024 characters, without half of a surrogate pair at their end. */
function beginningOf(raw: string): string {
  const cut = raw.slice(0, MAX_RAW_CHARACTERS);
  return cut.length < raw.length ? cut.replace(/[\uD800-\uDBFF]$/, '') : cut;
}
