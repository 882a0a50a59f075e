import { closeSync, fsyncSync, openSync, writeSync } from 'node:fs';

const BUFFER_BYTES = 1 << 20;
/** So few are copied one by one: to hand them over to the runtime takes longer. */
const FEW_BYTES = 300;

/**
 * A new file that text is added to. Written at once rather than queued: what is made faster than the disk takes it
 * would pile up in memory.
 */
export class OutputFile {
  readonly #descriptor: number;
  readonly #buffer = Buffer.allocUnsafeSlow(BUFFER_BYTES);
  #used = 0;
  #written = 0;

  constructor(path: string) {
    this.#descriptor = openSync(path, 'wx');
  }

  /** Bytes added so far. */
  get size(): number {
    return this.#written + this.#used;
  }

  add(text: string): void {
    // A character takes at most three bytes.
    if (text.length * 3 > BUFFER_BYTES - this.#used) this.#flush();
    if (text.length * 3 > BUFFER_BYTES) this.#write(Buffer.from(text));
    else this.#used += this.#buffer.write(text, this.#used);
  }

  /** Adds bytes, or those from a place up to another. */
  addBytes(bytes: Uint8Array, from = 0, to = bytes.length): void {
    const length = to - from;
    if (length > BUFFER_BYTES - this.#used) this.#flush();
    if (length > BUFFER_BYTES) {
      this.#write(bytes.subarray(from, to));
    } else if (length > FEW_BYTES) {
      this.#buffer.set(bytes.subarray(from, to), this.#used);
      this.#used += length;
    } else {
      let used = this.#used;
      for (let at = from; at < to; at++) this.#buffer[used++] = bytes[at] ?? 0;
      this.#used = used;
    }
  }

  /** Ends the file, and waits until the disk has it if it is meant to last. */
  close({ lasting }: { lasting: boolean }): void {
    this.#flush();
    if (lasting) fsyncSync(this.#descriptor);
    closeSync(this.#descriptor);
  }

  /** Ends the file as it is; what was added last may not be in it. */
  abandon(): void {
    closeSync(this.#descriptor);
  }

  #flush(): void {
    this.#write(this.#buffer.subarray(0, this.#used));
    this.#used = 0;
  }

  #write(bytes: Uint8Array): void {
    for (let from = 0; from < bytes.length; ) from += writeSync(this.#descriptor, bytes, from);
    this.#written += bytes.length;
  }
}
