/** What is remembered of a queue, characters: some seconds of a large fleet's lines, in 8 MB at most. */
const MOST_CHARACTERS = 4_000_000;

/**
 * Bodies of messages that are on the disk and were sent a moment ago, so that most need not be read back: that takes about as
 * long as to write them. Each is given once; one that comes back is read from the disk.
 */
export class Bodies {
  readonly #byNumber = new Map<number, string>();
  #characters = 0;

  remember(number: number, body: string): void {
    if (this.#characters + body.length > MOST_CHARACTERS) return;
    this.#byNumber.set(number, body);
    this.#characters += body.length;
  }

  recall(number: number): string | undefined {
    const body = this.#byNumber.get(number);
    if (this.#byNumber.delete(number)) this.#characters -= body?.length ?? 0;
    return body;
  }
}
