interface Happening {
  readonly at: number;
  /** Breaks ties, so that a run is the same every time. */
  readonly order: number;
  readonly act: () => void;
}

/** What is to happen, in the order of time: the clock of a simulation. Seconds. */
export class Timeline {
  #now = 0;
  #order = 0;
  readonly #heap: Happening[] = [];

  get now(): number {
    return this.#now;
  }

  /** Has something happen at an instant, or now if that is past. */
  at(instant: number, act: () => void): void {
    const heap = this.#heap;
    const added = { at: Math.max(instant, this.#now), order: this.#order++, act };
    let index = heap.push(added) - 1;
    while (index > 0) {
      const parent = (index - 1) >> 1;
      const above = heap[parent];
      if (!above || !isBefore(added, above)) break;
      heap[index] = above;
      index = parent;
    }
    heap[index] = added;
  }

  /** Lets things happen until nothing is left to happen, or `until` would be passed. */
  run(until = Number.POSITIVE_INFINITY): void {
    for (;;) {
      const [next] = this.#heap;
      if (!next || next.at > until) return;
      this.#takeFirst();
      this.#now = next.at;
      next.act();
    }
  }

  #takeFirst(): void {
    const heap = this.#heap;
    const last = heap.pop();
    if (!last || heap.length === 0) return;
    let index = 0;
    for (;;) {
      const left = 2 * index + 1;
      const [a, b] = [heap[left], heap[left + 1]];
      if (!a) break;
      const isRight = b !== undefined && isBefore(b, a);
      const child = isRight ? b : a;
      if (!isBefore(child, last)) break;
      heap[index] = child;
      index = isRight ? left + 1 : left;
    }
    heap[index] = last;
  }
}

function isBefore(a: Happening, b: Happening): boolean {
  return a.at < b.at || (a.at === b.at && a.order < b.order);
}
