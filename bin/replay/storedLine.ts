import type { Received } from '../../lib/replay/received.ts';
import type { Fact } from '../../shared/facts.ts';
import type { LineTexts } from './lineTexts.ts';

/** An accepted line whose text is on the disk, and is read only if it is asked for: where another line has its id. */
export class StoredLine implements Received {
  readonly line: number;
  readonly fact: Fact;
  readonly #texts: LineTexts;
  readonly #position: number;
  readonly #bytes: number;

  constructor(line: number, fact: Fact, texts: LineTexts, position: number, bytes: number) {
    this.line = line;
    this.fact = fact;
    this.#texts = texts;
    this.#position = position;
    this.#bytes = bytes;
  }

  get raw(): string {
    return this.#texts.at(this.#position, this.#bytes);
  }
}
