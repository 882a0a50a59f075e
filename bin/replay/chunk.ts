import { closeSync, openSync } from 'node:fs';
import { FactReader } from './factCodec.ts';
import type { LineTexts } from './lineTexts.ts';
import { OutputFile } from './outputFile.ts';
import { readPart } from './readPart.ts';
import { StoredLine } from './storedLine.ts';

/** Accepted lines as facts, each after its number and the place of its text; unit by unit in the order of the registry. */
export interface Chunk {
  bytes: Uint8Array<ArrayBuffer>;
  /** Where the lines of each unit begin within them, and where those of the last one end. */
  offsets: Uint32Array<ArrayBuffer>;
}

/** A chunk of all units in a file, followed by its offsets: the more days there are, the more of them, so they stay there. */
export interface ChunkFile {
  path: string;
  /** Where the offsets begin. */
  size: number;
}

/** The part of a chunk that holds the units from `first` up to but without `end`, not copied; undefined if it is empty. */
export function sliceOf({ bytes, offsets }: Chunk, first: number, end: number): Chunk | undefined {
  const from = offsets[first] ?? 0;
  const to = offsets[end] ?? from;
  if (from === to) return undefined;
  return {
    bytes: bytes.subarray(from, to),
    offsets: offsets.slice(first, end + 1).map((offset) => offset - from),
  };
}

/** Writes chunks of all units as one to a new file. */
export function writeChunks(path: string, chunks: readonly Chunk[], units: number): ChunkFile {
  const file = new OutputFile(path);
  // Together they may be larger than 4 GB.
  const offsets = new Float64Array(units + 1);
  for (let unit = 0; unit < units; unit++) {
    for (const chunk of chunks) {
      const from = chunk.offsets[unit] ?? 0;
      const to = chunk.offsets[unit + 1] ?? from;
      if (from < to) file.addBytes(chunk.bytes, from, to);
    }
    offsets[unit + 1] = file.size;
  }
  const { size } = file;
  file.addBytes(Buffer.from(offsets.buffer));
  file.close({ lasting: false });
  return { path, size };
}

/** Reads the part of a chunk's file that holds the units from `first` up to but without `end`. */
export function readChunk({ path, size }: ChunkFile, first: number, end: number): Chunk {
  const descriptor = openSync(path, 'r');
  try {
    const { buffer } = readPart(descriptor, size + first * 8, (end - first + 1) * 8);
    const offsets = new Float64Array(buffer);
    const from = offsets[0] ?? 0;
    const bytes = readPart(descriptor, from, (offsets.at(-1) ?? from) - from);
    return { bytes, offsets: Uint32Array.from(offsets, (offset) => offset - from) };
  } finally {
    closeSync(descriptor);
  }
}

/** What the unit at that place received, in the order of the chunks. */
export function linesOf(chunks: readonly Chunk[], unit: number, texts: LineTexts): StoredLine[] {
  const lines: StoredLine[] = [];
  for (const { bytes, offsets } of chunks) {
    const end = offsets[unit + 1] ?? 0;
    const start = offsets[unit] ?? end;
    // Of a large fleet, most units have none in a chunk.
    if (start === end) continue;
    const reader = new FactReader(bytes);
    reader.at = start;
    while (reader.at < end) {
      const line = reader.number();
      const position = reader.number();
      const length = reader.number();
      lines.push(new StoredLine(line, reader.fact(), texts, position, length));
    }
  }
  return lines;
}
