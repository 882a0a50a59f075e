const FIRST_BYTES = 1 << 16;
const ZERO = 48;
/** The two digits of each number below a hundred: one look instead of a division for each digit. */
const TENS = Uint8Array.from({ length: 100 }, (_, number) => ZERO + Math.trunc(number / 10));
const ONES = Uint8Array.from({ length: 100 }, (_, number) => ZERO + (number % 10));
const MINUS = 45;
const DOT = 46;
/** Up to here a number of parts is divided in whole numbers of 32 bits. */
const LARGEST_WRITTEN = 1e9;

/** Text that is written over and over, made to bytes once, four of them to a number. */
export class Piece {
  readonly length: number;
  readonly fours: Int32Array;

  /** @param text of characters below 128 */
  constructor(text: string) {
    this.length = text.length;
    const bytes = Buffer.alloc(Math.ceil(text.length / 4) * 4, text, 'latin1');
    if (text.length % 4 !== 0) bytes.fill(0, text.length);
    this.fours = Int32Array.from({ length: bytes.length / 4 }, (_, at) => bytes.readInt32LE(4 * at));
  }
}

/**
 * Text of characters below 128 that grows as bytes, so that it can be handed over to another thread. It is written digit
 * by digit, since to make a text of a number and bytes of a text takes several times as long.
 */
export class AsciiBytes {
  #bytes = Buffer.allocUnsafeSlow(FIRST_BYTES);
  #view = new DataView(this.#bytes.buffer);
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
    this.#view = new DataView(larger.buffer);
  }

  /** Adds a piece. It takes up to three characters more than it has, which what comes next overwrites. */
  piece({ length, fours }: Piece): void {
    const view = this.#view;
    let at = this.#used;
    for (let index = 0; index < fours.length; index++, at += 4)
      view.setInt32(at, fours[index] as number, true);
    this.#used += length;
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
   * @param parts 100, 10,000 and so on
   */
  number(value: number, parts: number): void {
    const rounded = Math.round(value * parts);
    if (!(Math.abs(rounded) < LARGEST_WRITTEN)) {
      const number = rounded / parts;
      this.text(Number.isFinite(number) ? `${number}` : 'null');
      return;
    }
    // Whole numbers of 32 bits from here on, of which a division by a constant is a multiplication.
    const size = Math.abs(rounded) | 0;
    if (rounded < 0) this.#bytes[this.#used++] = MINUS;
    const whole = (size / parts) | 0;
    this.#whole(whole);
    this.#decimals((size - whole * parts) | 0, parts);
  }

  #whole(whole: number): void {
    const bytes = this.#bytes;
    let left = whole;
    let at = this.#used + digitsOf(whole);
    this.#used = at;
    for (; left >= 100; at -= 2) {
      const hundreds = (left / 100) | 0;
      const pair = left - hundreds * 100;
      bytes[at - 1] = ONES[pair] as number;
      bytes[at - 2] = TENS[pair] as number;
      left = hundreds;
    }
    bytes[at - 1] = ONES[left] as number;
    if (left >= 10) bytes[at - 2] = TENS[left] as number;
  }

  /** As many as are needed: of so many decimals the shortest text that is read as the same number is the plain one. */
  #decimals(over: number, parts: number): void {
    if (over === 0) return;
    const bytes = this.#bytes;
    let at = this.#used;
    bytes[at++] = DOT;
    let left = over;
    for (let part = (parts / 100) | 0; left > 0; part = (part / 100) | 0) {
      const pair = (left / part) | 0;
      left -= pair * part;
      bytes[at++] = TENS[pair] as number;
      if (left > 0 || ONES[pair] !== ZERO) bytes[at++] = ONES[pair] as number;
    }
    this.#used = at;
  }
}

function digitsOf(whole: number): number {
  let digits = 1;
  for (let power = 10; power <= whole; power *= 10) digits++;
  return digits;
}
