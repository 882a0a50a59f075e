import { closeSync, openSync } from 'node:fs';
import { readPart } from './readPart.ts';

/** The lines of a replay as they were read, in a file. It is opened when a line is first asked for. */
export class LineTexts {
  readonly #path: string;
  #descriptor: number | undefined;

  constructor(path: string) {
    this.#path = path;
  }

  /** The line of so many bytes that begins there. */
  at(position: number, bytes: number): string {
    this.#descriptor ??= openSync(this.#path, 'r');
    return readPart(this.#descriptor, position, bytes).toString('utf8');
  }

  close(): void {
    if (this.#descriptor !== undefined) closeSync(this.#descriptor);
    this.#descriptor = undefined;
  }
}
