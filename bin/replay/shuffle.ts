import type { Received } from '../../lib/replay/received.ts';
import { settle } from '../../lib/replay/standing.ts';
import type { Unit } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
import { type Chunk, readChunks, sliceOf, writeChunk } from './chunk.ts';

/** Text beyond this goes into a chunk file. What is made of it takes about twice as much again. */
export const HELD_CHARACTERS = 32 << 20;
/** Text of the units that are folded in one go: enough to make the reading worth while, little enough to hold. */
const RANGE_BYTES = 4 << 20;
/** A line as it is usually long: lines that are held in memory are counted, not measured. */
const USUAL_LINE_BYTES = 256;

/** Neighbouring units from `first` up to but without `end`, and where their lines are: in memory or in chunks. */
export type UnitRange = { first: number; end: number } & ({ held: Received[][] } | { chunks: Chunk[] });

/**
 * Sorts accepted lines by unit, since a unit's events may be anywhere in the file: in memory as long as they fit
 * and in chunk files from then on, so that memory does not grow with the file.
 */
export class Shuffle {
  readonly #units: readonly Unit[];
  readonly #chunkPath: string;
  readonly #budget: number;
  readonly #chunks: Chunk[] = [];
  #held: Received[][];
  #heldCharacters = 0;
  /** By unit, the last instant at which any of its lines became known. */
  readonly lastKnown: Float64Array;

  /**
   * @param chunkPath what the paths of its chunk files begin with
   * @param budget characters of text that are held in memory
   */
  constructor(units: readonly Unit[], chunkPath: string, budget: number) {
    this.#units = units;
    this.#chunkPath = chunkPath;
    this.#budget = budget;
    this.#held = units.map(() => []);
    this.lastKnown = new Float64Array(units.length).fill(Number.NEGATIVE_INFINITY);
  }

  /** Takes a line in, for the unit at that place of the registry. */
  hold(unit: number, received: Received): void {
    this.#held[unit]?.push(received);
    this.#knownOf(unit, received.fact.known);
    this.#heldCharacters += received.raw.length;
    if (this.#heldCharacters > this.#budget) this.spill();
  }

  /** Takes in a chunk that another shuffle of the same registry has spilled. */
  adopt(chunk: Chunk, lastKnown: Float64Array): void {
    this.#chunks.push(chunk);
    lastKnown.forEach((known, unit) => {
      this.#knownOf(unit, known);
    });
  }

  /** Puts what is held into a chunk. */
  spill(): Chunk {
    const chunk = writeChunk(`${this.#chunkPath}-${this.#chunks.length}`, this.#held);
    this.#chunks.push(chunk);
    this.#held = this.#units.map(() => []);
    this.#heldCharacters = 0;
    return chunk;
  }

  /** Ends the taking in: everything is in memory from then on, or everything in chunks. */
  seal(): void {
    if (this.#chunks.length > 0 && this.#heldCharacters > 0) this.spill();
  }

  /** All units in order, in ranges that are small enough to be folded in one go. */
  *ranges(): Generator<UnitRange> {
    for (let first = 0; first < this.#units.length; ) {
      let end = first;
      for (let size = 0; end < this.#units.length && size < RANGE_BYTES; end++) size += this.#sizeOf(end);
      yield this.#range(first, end);
      first = end;
    }
  }

  /**
   * The last instant at which an event that stands became known; undefined if none does. A copy that came later does
   * not count, so units are settled until none is left that could surpass what was found: mostly after the first.
   */
  lastStanding(): Instant | undefined {
    const latestFirst = [...this.lastKnown.keys()].sort(
      (a, b) => this.#lastKnownOf(b) - this.#lastKnownOf(a),
    );
    let last = Number.NEGATIVE_INFINITY;
    for (const unit of latestFirst) {
      if (this.#lastKnownOf(unit) <= last) break;
      const [received = []] = receivedIn(this.#range(unit, unit + 1), this.#units);
      for (const { fact } of settle(received).standing) last = Math.max(last, fact.known);
    }
    return Number.isFinite(last) ? last : undefined;
  }

  #range(first: number, end: number): UnitRange {
    if (this.#chunks.length === 0) return { first, end, held: this.#held.slice(first, end) };
    const chunks = this.#chunks
      .map((chunk) => sliceOf(chunk, first, end))
      .filter((chunk) => chunk !== undefined);
    return { first, end, chunks };
  }

  #sizeOf(unit: number): number {
    const held = (this.#held[unit]?.length ?? 0) * USUAL_LINE_BYTES;
    return this.#chunks.reduce(
      (size, { offsets }) => size + (offsets[unit + 1] ?? 0) - (offsets[unit] ?? 0),
      held,
    );
  }

  #knownOf(unit: number, known: Instant): void {
    this.lastKnown[unit] = Math.max(this.#lastKnownOf(unit), known);
  }

  #lastKnownOf(unit: number): Instant {
    return this.lastKnown[unit] ?? Number.NEGATIVE_INFINITY;
  }
}

/** What each unit of a range received. */
export function receivedIn(range: UnitRange, units: readonly Unit[]): Received[][] {
  return 'held' in range ? range.held : readChunks(range.chunks, units.slice(range.first, range.end));
}
