const FIRST_BYTES = 1 << 16;
const ZERO = 48;
const MINUS = 45;
const DOT = 46;
/** Up to here a number of parts is divided in whole numbers of 32 bits. */
const LARGEST_WRITTEN = 1e9;

/**
 * Text of characters below 128 that grows as bytes, so that it can be handed over to another thread. It is written digit
 * by digit, since to make a text of a number and bytes of a text takes several times as long.
 */
export class AsciiBytes {
  #bytes = Buffer.allocUnsafeSlow(FIRST_BYTES);
  #used = 0;

  /** All of it. */
  get bytes(): Uint8Array<ArrayBuffer> {
    return this.#bytes.subarray(0, this.#used);
  }

  /** Makes room for so many characters, which may then be added. */
  reserve(characters: number): void {
    if (this.#used + characters <= this.#bytes.length) return;
    const larger = Buffer.allocUnsafeSlow(2 * (this.#used + characters));
    larger.set(this.#bytes.subarray(0, this.#used));
    this.#bytes = larger;
  }

  /** Adds text that is written over and over, made to bytes once: to take it from there costs a third. */
  piece(piece: Uint8Array): void {
    const bytes = this.#bytes;
    let at = this.#used;
    for (let index = 0; index < piece.length; index++) bytes[at++] = piece[index] as number;
    this.#used = at;
  }

  text(text: string): void {
    const bytes = this.#bytes;
    let at = this.#used;
    for (let index = 0; index < text.length; index++) bytes[at++] = text.charCodeAt(index);
    this.#used = at;
  }

  /**
   * Adds a number to so many parts of one, as JSON has it: no -0, and null for what is no number.
   *
   * @param parts 10, 100 and so on
   */
  number(value: number, parts: number): void {
    const rounded = Math.round(value * parts);
    if (!(Math.abs(rounded) < LARGEST_WRITTEN)) {
      const number = rounded / parts;
      this.text(Number.isFinite(number) ? `${number}` : 'null');
      return;
    }
    const size = Math.abs(rounded);
    if (rounded < 0) this.#bytes[this.#used++] = MINUS;
    const whole = Math.trunc(size / parts);
    this.#whole(whole);
    this.#decimals(size - whole * parts, parts);
  }

  #whole(whole: number): void {
    const bytes = this.#bytes;
    let digits = 1;
    for (let power = 10; power <= whole; power *= 10) digits++;
    this.#used += digits;
    let left = whole;
    for (let at = this.#used - 1; digits > 0; digits--) {
      const tenth = Math.trunc(left / 10);
      bytes[at--] = ZERO + left - tenth * 10;
      left = tenth;
    }
  }

  /** As many as are needed: of so many decimals the shortest text that is read as the same number is the plain one. */
  #decimals(over: number, parts: number): void {
    if (over === 0) return;
    const bytes = this.#bytes;
    bytes[this.#used++] = DOT;
    let left = over;
    for (let part = parts / 10; left > 0; part /= 10) {
      const digit = Math.trunc(left / part);
      bytes[this.#used++] = ZERO + digit;
      left -= digit * part;
    }
  }
}
