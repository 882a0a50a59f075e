/** A line of waiting items, with constant cost at both ends however long it grows. */
export class Deque<Item> {
  /** The front of the line, reversed; and its back. */
  #front: Item[] = [];
  #back: Item[] = [];

  get size(): number {
    return this.#front.length + this.#back.length;
  }

  push(item: Item): void {
    this.#back.push(item);
  }

  unshift(item: Item): void {
    this.#front.push(item);
  }

  peek(): Item | undefined {
    return this.#front.at(-1) ?? this.#back[0];
  }

  shift(): Item | undefined {
    if (this.#front.length === 0) {
      this.#front = this.#back.reverse();
      this.#back = [];
    }
    return this.#front.pop();
  }
}
