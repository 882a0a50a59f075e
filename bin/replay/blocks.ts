import { MAX_EVENT_BYTES } from '../../shared/quarantine.ts';

const LF = 10;
const CR = 13;
const BOM = Buffer.from('\uFEFF');
/** A longer line is cut to this: still too large, even if a byte order mark and a CR at the cut do not count. */
const KEPT_OF_A_LINE = MAX_EVENT_BYTES + BOM.length + 2;
/** Large enough that the cost of a block is nothing beside that of its lines, small enough to hold several. */
const BLOCK_BYTES = 1 << 20;

/** A stretch of whole lines; only the last of a stream may lack its final newline. */
export interface Block {
  bytes: Buffer<ArrayBuffer>;
  /** The number of its first line, from 1. */
  firstLine: number;
  /** How many bytes the blocks before it have. */
  position: number;
}

/**
 * Cuts a stream of bytes into blocks of whole lines. Of a line that is too large for an event only the beginning
 * goes on, so that no line, however long, grows the memory. Where the stream breaks off, what came before goes on
 * first.
 *
 * @param size bytes of a block, more than the few beyond 65,536 that are kept of a line
 */
export async function* blocksOf(chunks: AsyncIterable<Buffer>, size = BLOCK_BYTES): AsyncGenerator<Block> {
  const cutter = new Cutter(size);
  let broken: { error: unknown } | undefined;
  try {
    for await (const chunk of chunks) yield* cutter.take(chunk);
  } catch (error) {
    broken = { error };
  }
  yield* cutter.rest();
  if (broken) throw broken.error;
}

class Cutter {
  readonly #size: number;
  #block: Buffer<ArrayBuffer>;
  #used = 0;
  /** Whether we are inside a line whose beginning is all that is kept. */
  #skipping = false;
  #nextLine = 1;
  #handedOver = 0;

  constructor(size: number) {
    this.#size = size;
    this.#block = Buffer.allocUnsafeSlow(size);
  }

  *take(chunk: Buffer): Generator<Block> {
    let from = 0;
    while (from < chunk.length) {
      if (this.#skipping) {
        const end = chunk.indexOf(LF, from);
        if (end < 0) return;
        from = end;
        this.#skipping = false;
      }
      const some = chunk.subarray(from, from + this.#size - this.#used);
      this.#block.set(some, this.#used);
      this.#used += some.length;
      from += some.length;
      if (this.#used === this.#size) yield* this.#cut(this.#block.lastIndexOf(LF) + 1);
    }
  }

  *rest(): Generator<Block> {
    yield* this.#cut(this.#used);
  }

  /** Hands over the first `end` bytes, and carries over what follows: the beginning of a line. */
  *#cut(end: number): Generator<Block> {
    const bytes = this.#block.subarray(0, end);
    const carried = this.#block.subarray(end, this.#used);
    const kept = carried.subarray(0, KEPT_OF_A_LINE);
    this.#skipping = kept.length < carried.length;
    this.#used = kept.length;
    if (end === 0) return;
    this.#block = Buffer.allocUnsafeSlow(this.#size);
    this.#block.set(kept);
    const firstLine = this.#nextLine;
    const position = this.#handedOver;
    this.#nextLine += linesIn(bytes);
    this.#handedOver += bytes.length;
    yield { bytes, firstLine, position };
  }
}

function linesIn(bytes: Buffer): number {
  let lines = 0;
  for (let at = bytes.indexOf(LF); at >= 0; at = bytes.indexOf(LF, at + 1)) lines++;
  return lines;
}

/**
 * Calls `take` with where each line of a block begins and ends, without its LF or CRLF, and its number. Lines of
 * nothing but white space are counted and left out, and so is a byte order mark at the start.
 */
export function eachLine(block: Block, take: (start: number, end: number, line: number) => void): void {
  const { bytes } = block;
  let line = block.firstLine;
  const begin = line === 1 && bytes.subarray(0, BOM.length).equals(BOM) ? BOM.length : 0;
  for (let start = begin; start < bytes.length; line++) {
    const lf = bytes.indexOf(LF, start);
    const next = lf < 0 ? bytes.length : lf;
    const end = next > start && bytes[next - 1] === CR ? next - 1 : next;
    if (!isBlank(bytes, start, end)) take(start, end, line);
    start = next + 1;
  }
}

function isBlank(bytes: Buffer, start: number, end: number): boolean {
  for (let at = start; at < end; at++) {
    const byte = bytes[at];
    if (byte !== 32 && byte !== 9 && byte !== CR) return false;
  }
  return true;
}
