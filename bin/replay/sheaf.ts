import type { Fact } from '../../shared/facts.ts';
import type { Chunk } from './chunk.ts';
import { FactWriter } from './factCodec.ts';

const FIRST_LINES = 1 << 12;

/** Gathers accepted lines as they come and binds them into a chunk; then it is empty, to be used again. */
export class Sheaf {
  readonly #units: number;
  readonly #writer = new FactWriter();
  #lines = 0;
  /** Of each line, its unit's place in the registry, and where what is written of it ends. */
  #unitOf = new Uint32Array(FIRST_LINES);
  #endOf = new Uint32Array(FIRST_LINES);

  /** @param units how many there are in the registry */
  constructor(units: number) {
    this.#units = units;
  }

  /**
   * Takes a line in.
   *
   * @param unit the place of its unit in the registry
   * @param position where its text begins in the texts of the replay, and how many bytes it has
   */
  add(unit: number, fact: Fact, line: number, position: number, bytes: number): void {
    const writer = this.#writer;
    writer.number(line);
    writer.number(position);
    writer.number(bytes);
    writer.fact(fact);
    if (this.#lines === this.#unitOf.length) {
      this.#unitOf = twiceAsLong(this.#unitOf);
      this.#endOf = twiceAsLong(this.#endOf);
    }
    this.#unitOf[this.#lines] = unit;
    this.#endOf[this.#lines] = writer.size;
    this.#lines += 1;
  }

  /** What was gathered, by unit, and of each unit in the order in which it came. */
  bind(): Chunk {
    const written = this.#writer.bytes;
    const offsets = this.#offsets();
    const next = offsets.slice();
    const bytes = Buffer.allocUnsafeSlow(written.length);
    const source = new DataView(written.buffer, written.byteOffset, written.length);
    const target = new DataView(bytes.buffer);
    let start = 0;
    for (let line = 0; line < this.#lines; line++) {
      const end = this.#endOf[line] ?? start;
      const unit = this.#unitOf[line] ?? 0;
      let to = next[unit] ?? 0;
      next[unit] = to + end - start;
      // Four at a time: they are a hundred, and handing so few over to the runtime takes longer.
      let from = start;
      for (const last = end - 4; from <= last; from += 4, to += 4) target.setInt32(to, source.getInt32(from));
      for (; from < end; from++) bytes[to++] = written[from] as number;
      start = end;
    }
    this.#writer.clear();
    this.#lines = 0;
    return { bytes, offsets };
  }

  #offsets(): Uint32Array<ArrayBuffer> {
    const offsets = new Uint32Array(this.#units + 1);
    let start = 0;
    for (let line = 0; line < this.#lines; line++) {
      const end = this.#endOf[line] ?? start;
      const after = (this.#unitOf[line] ?? 0) + 1;
      offsets[after] = (offsets[after] ?? 0) + end - start;
      start = end;
    }
    for (let unit = 0; unit < this.#units; unit++)
      offsets[unit + 1] = (offsets[unit + 1] ?? 0) + (offsets[unit] ?? 0);
    return offsets;
  }
}

function twiceAsLong(numbers: Uint32Array<ArrayBuffer>): Uint32Array<ArrayBuffer> {
  const longer = new Uint32Array(2 * numbers.length);
  longer.set(numbers);
  return longer;
}
