import { type Chunk, type ChunkFile, linesOf, readChunk } from './chunk.ts';
import type { LineTexts } from './lineTexts.ts';
import type { StoredLine } from './storedLine.ts';

/** Neighbouring units from `first` up to but without `end`, and where their lines are: in files, and in memory. */
export interface UnitRange {
  first: number;
  end: number;
  files: readonly ChunkFile[];
  /** The parts of chunks that hold these units. */
  held: readonly Chunk[];
}

/** Reads what the units of a range received, one after the other: as facts they take several times the memory. */
export class RangeReader {
  readonly #chunks: readonly Chunk[];
  readonly #texts: LineTexts;

  constructor({ first, end, files, held }: UnitRange, texts: LineTexts) {
    this.#chunks = [...files.map((file) => readChunk(file, first, end)), ...held];
    this.#texts = texts;
  }

  /** What a unit received, by its place in the range. */
  received(index: number): StoredLine[] {
    return linesOf(this.#chunks, index, this.#texts);
  }
}

/** The same range with what is in memory as one stretch of its own, which can be handed over to a thread. */
export function detached(range: UnitRange): { range: UnitRange; buffers: ArrayBuffer[] } {
  const bytes = Buffer.allocUnsafeSlow(range.held.reduce((size, chunk) => size + chunk.bytes.length, 0));
  let used = 0;
  const held = range.held.map((chunk) => {
    const start = used;
    bytes.set(chunk.bytes, start);
    used += chunk.bytes.length;
    return { bytes: bytes.subarray(start, used), offsets: chunk.offsets };
  });
  return { range: { ...range, held }, buffers: [bytes.buffer] };
}
