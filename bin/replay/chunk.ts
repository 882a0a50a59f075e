import { closeSync, openSync, readSync } from 'node:fs';
import type { Received } from '../../lib/replay/received.ts';
import { readmit } from '../../shared/admission.ts';
import type { Unit } from '../../shared/registry.ts';
import { OutputFile } from './outputFile.ts';

const LF = 10;
const SPACE = 32;

/** A file of accepted lines, unit by unit in the order of the registry; or the part of it of neighbouring units. */
export interface Chunk {
  path: string;
  /** Where the lines of each unit begin, and where those of the last one end. */
  offsets: Uint32Array;
}

/** Writes the lines that each unit received to a new file, each after its number. */
export function writeChunk(path: string, byUnit: readonly (readonly Received[])[]): Chunk {
  const file = new OutputFile(path);
  const offsets = new Uint32Array(byUnit.length + 1);
  byUnit.forEach((received, unit) => {
    for (const { line, raw } of received) file.add(`${line} ${raw}\n`);
    offsets[unit + 1] = file.size;
  });
  file.close({ lasting: false });
  return { path, offsets };
}

/** The part of a chunk that holds the units from `first` up to but without `end`; undefined if it has no lines. */
export function sliceOf(chunk: Chunk, first: number, end: number): Chunk | undefined {
  const offsets = chunk.offsets.slice(first, end + 1);
  return offsets.at(-1) === offsets[0] ? undefined : { path: chunk.path, offsets };
}

/** Reads chunks of the same units back: what each unit received, in the order of the chunks. */
export function readChunks(chunks: readonly Chunk[], units: readonly Unit[]): Received[][] {
  const byUnit: Received[][] = units.map(() => []);
  for (const { path, offsets } of chunks) {
    const begin = offsets[0] ?? 0;
    const bytes = readPart(path, begin, offsets.at(-1) ?? begin);
    units.forEach((unit, index) => {
      const end = (offsets[index + 1] ?? begin) - begin;
      for (let at = (offsets[index] ?? begin) - begin; at < end; ) {
        const space = bytes.indexOf(SPACE, at);
        const lf = bytes.indexOf(LF, space);
        const raw = bytes.toString('utf8', space + 1, lf);
        byUnit[index]?.push({
          line: Number(bytes.toString('latin1', at, space)),
          raw,
          fact: readmit(raw, unit),
        });
        at = lf + 1;
      }
    });
  }
  return byUnit;
}

function readPart(path: string, begin: number, end: number): Buffer {
  const bytes = Buffer.allocUnsafeSlow(end - begin);
  const descriptor = openSync(path, 'r');
  try {
    for (let read = 0; read < bytes.length; ) {
      const more = readSync(descriptor, bytes, read, bytes.length - read, begin + read);
      if (more === 0)
        throw new Error(`${path} is shorter than it was written: is another process at work there?`);
      read += more;
    }
  } finally {
    closeSync(descriptor);
  }
  return bytes;
}
