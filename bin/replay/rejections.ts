import { closeSync, createReadStream, openSync, readSync } from 'node:fs';
import type { QuarantineReason, Rejection } from '../../shared/quarantine.ts';
import { blocksOf, eachLine } from './blocks.ts';
import { OutputFile } from './outputFile.ts';
import { type RejectionPart, rejectionLine } from './rejectionLines.ts';

const COMMA = 44;
const LINE_MEMBER = '{"line":';

/** Rejections in a file, not in memory: there may be as many as there are lines. */
export class RejectionLog {
  readonly counts = new Map<QuarantineReason, number>();
  readonly path: string;
  readonly #file: OutputFile;

  constructor(path: string) {
    this.path = path;
    this.#file = new OutputFile(path);
  }

  /** Where the next one will begin. */
  get size(): number {
    return this.#file.size;
  }

  add(rejection: Rejection): void {
    this.#count(rejection.reason, 1);
    this.#file.add(rejectionLine(rejection));
  }

  append({ bytes, counts }: RejectionPart): void {
    for (const [reason, count] of counts) this.#count(reason, count);
    this.#file.addBytes(bytes);
  }

  close(): void {
    this.#file.close({ lasting: false });
  }

  #count(reason: QuarantineReason, more: number): void {
    this.counts.set(reason, (this.counts.get(reason) ?? 0) + more);
  }
}

/**
 * Rejections in whatever order they come, to be merged by line with those that come in order: that two lines are in
 * conflict shows only when their unit is settled. Only where each of them begins is kept in memory.
 */
export class LateRejections {
  readonly #log: RejectionLog;
  readonly #lines: number[] = [];
  readonly #starts: number[] = [];

  constructor(path: string) {
    this.#log = new RejectionLog(path);
  }

  get count(): number {
    return this.#lines.length;
  }

  add(rejection: Rejection): void {
    this.#lines.push(rejection.line);
    this.#starts.push(this.#log.size);
    this.#log.add(rejection);
  }

  /** Writes these and the ordered ones of a finished log, all by line. */
  async mergeInto(out: OutputFile, ordered: RejectionLog): Promise<void> {
    this.#log.close();
    const byLine = [...this.#lines.keys()].sort((a, b) => this.#lineOf(a) - this.#lineOf(b));
    const file = openSync(this.#log.path, 'r');
    let next = 0;
    const addUpTo = (line: number) => {
      for (; next < byLine.length && this.#lineOf(byLine[next] ?? 0) < line; next++) {
        out.addBytes(this.#read(file, byLine[next] ?? 0));
      }
    };
    for await (const block of blocksOf(createReadStream(ordered.path))) {
      eachLine(block, (start, end) => {
        const comma = block.bytes.indexOf(COMMA, start);
        addUpTo(Number(block.bytes.toString('latin1', start + LINE_MEMBER.length, comma)));
        out.addBytes(block.bytes.subarray(start, end + 1));
      });
    }
    addUpTo(Number.POSITIVE_INFINITY);
    closeSync(file);
  }

  #lineOf(index: number): number {
    return this.#lines[index] ?? 0;
  }

  #read(file: number, index: number): Buffer {
    const start = this.#starts[index] ?? 0;
    const bytes = Buffer.alloc((this.#starts[index + 1] ?? this.#log.size) - start);
    readSync(file, bytes, 0, bytes.length, start);
    return bytes;
  }
}
