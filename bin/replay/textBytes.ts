const FIRST_BYTES = 1 << 16;
/** Texts are joined up to about so many characters: to hand each over to the runtime takes longer than to join them. */
const JOINED_CHARACTERS = 1 << 14;

/** Text that grows as bytes, so that it can be handed over to another thread; of characters below 128 only. */
export class TextBytes {
  #bytes = Buffer.allocUnsafeSlow(FIRST_BYTES);
  #used = 0;
  #joined = '';

  add(text: string): void {
    this.#joined += text;
    if (this.#joined.length >= JOINED_CHARACTERS) this.#write();
  }

  /** All of it. */
  bytes(): Uint8Array<ArrayBuffer> {
    this.#write();
    return this.#bytes.subarray(0, this.#used);
  }

  #write(): void {
    const { length } = this.#joined;
    if (this.#used + length > this.#bytes.length) {
      const larger = Buffer.allocUnsafeSlow(2 * (this.#used + length));
      larger.set(this.#bytes.subarray(0, this.#used));
      this.#bytes = larger;
    }
    this.#used += this.#bytes.write(this.#joined, this.#used, 'latin1');
    this.#joined = '';
  }
}
