import { settle } from '../../lib/replay/standing.ts';
import type { Instant } from '../../shared/time/instant.ts';
import type { AdmittedBlock } from './admitBlock.ts';
import { type Chunk, type ChunkFile, sliceOf, writeChunks } from './chunk.ts';
import { LineTexts } from './lineTexts.ts';
import { OutputFile } from './outputFile.ts';
import { RangeReader, type UnitRange } from './unitRange.ts';

const MEGABYTE = 1 << 20;
/** Facts beyond this go into a chunk file. It is little beside what node takes, and holds half a million lines. */
export const HELD_MEGABYTES = 64;
/** Facts of the units that are folded in one go: enough to make the reading worth while, little enough to hold. */
const RANGE_BYTES = MEGABYTE;
/** What is left is shared out so many times over, so that towards the end no thread waits long for another. */
const SHARES_A_THREAD = 3;

/**
 * Sorts accepted lines by unit, since a unit's events may be anywhere in the file: as facts in memory as long as they
 * fit and in chunk files from then on, so that memory does not grow with the file. The texts go to a file as they come.
 */
export class Shuffle {
  readonly #units: number;
  readonly #folder: string;
  readonly #budget: number;
  readonly #textFile: OutputFile;
  readonly #texts: LineTexts;
  readonly #files: ChunkFile[] = [];
  #held: Chunk[] = [];
  #heldBytes = 0;
  /** By unit, the bytes of its lines, and the last instant at which any of them became known. */
  readonly #sizes: Float64Array;
  readonly #lastKnown: Float64Array;

  /**
   * @param units how many there are
   * @param folder for files that pass with the run
   * @param megabytes of facts that are held in memory
   */
  constructor(units: number, folder: string, megabytes: number) {
    this.#units = units;
    this.#folder = folder;
    this.#budget = megabytes * MEGABYTE;
    this.#textFile = new OutputFile(textsIn(folder));
    this.#texts = new LineTexts(textsIn(folder));
    this.#sizes = new Float64Array(units);
    this.#lastKnown = new Float64Array(units).fill(Number.NEGATIVE_INFINITY);
  }

  /** Takes in the texts of a block, in the order of blocks. */
  keep(texts: Uint8Array): void {
    this.#textFile.addBytes(texts);
  }

  /** Takes in what was accepted of a block, in the order of blocks. */
  adopt({ chunk, lastKnown }: Pick<AdmittedBlock, 'chunk' | 'lastKnown'>): void {
    const { bytes, offsets } = chunk;
    for (let unit = 0; unit < this.#units; unit++) {
      const size = (offsets[unit + 1] ?? 0) - (offsets[unit] ?? 0);
      if (size === 0) continue;
      this.#sizes[unit] = (this.#sizes[unit] ?? 0) + size;
      this.#lastKnown[unit] = Math.max(this.#lastKnownOf(unit), lastKnown[unit] ?? 0);
    }
    this.#held.push(chunk);
    this.#heldBytes += bytes.length + offsets.byteLength;
    if (this.#heldBytes > this.#budget) this.#spill();
  }

  /** Ends the taking in. */
  seal(): void {
    this.#textFile.close({ lasting: false });
  }

  /** Lets go of the files; whoever made the folder removes them. */
  close(): void {
    this.#texts.close();
  }

  /** All units in order, in ranges that are small enough to be folded in one go by one of so many threads. */
  *ranges(threads: number): Generator<UnitRange> {
    let left = 0;
    for (const size of this.#sizes) left += size;
    for (let first = 0; first < this.#units; ) {
      const most = threads > 1 ? Math.min(RANGE_BYTES, left / (threads * SHARES_A_THREAD)) : RANGE_BYTES;
      let end = first;
      let size = 0;
      do size += this.#sizes[end++] ?? 0;
      while (end < this.#units && size + (this.#sizes[end] ?? 0) <= most);
      left -= size;
      yield this.#range(first, end);
      first = end;
    }
  }

  /**
   * The last instant at which an event that stands became known; undefined if none does. A copy that came later does
   * not count, so units are settled until none is left that could surpass what was found: mostly after the first.
   */
  lastStanding(): Instant | undefined {
    const latestFirst = [...this.#lastKnown.keys()].sort(
      (a, b) => this.#lastKnownOf(b) - this.#lastKnownOf(a),
    );
    let last = Number.NEGATIVE_INFINITY;
    for (const unit of latestFirst) {
      if (this.#lastKnownOf(unit) <= last) break;
      const received = this.reader(this.#range(unit, unit + 1)).received(0);
      for (const { fact } of settle(received).standing) last = Math.max(last, fact.known);
    }
    return Number.isFinite(last) ? last : undefined;
  }

  /** Reads what the units of a range received, in this thread. */
  reader(range: UnitRange): RangeReader {
    return new RangeReader(range, this.#texts);
  }

  #range(first: number, end: number): UnitRange {
    const held: Chunk[] = [];
    for (const chunk of this.#held) {
      const slice = sliceOf(chunk, first, end);
      if (slice) held.push(slice);
    }
    return { first, end, files: this.#files, held };
  }

  #spill(): void {
    const path = `${this.#folder}/chunk-${this.#files.length}`;
    this.#files.push(writeChunks(path, this.#held, this.#units));
    this.#held = [];
    this.#heldBytes = 0;
  }

  #lastKnownOf(unit: number): Instant {
    return this.#lastKnown[unit] ?? Number.NEGATIVE_INFINITY;
  }
}

/** Where the texts of lines are in the folder of a run. */
export function textsIn(folder: string): string {
  return `${folder}/lines`;
}
