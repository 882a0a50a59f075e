const STEP_SECONDS = 0.1;

/** How long things took, in steps of a tenth of a second. */
export class Histogram {
  readonly #counts: number[] = [];
  #count = 0;
  #sum = 0;
  #most = 0;

  get count(): number {
    return this.#count;
  }

  get most(): number {
    return this.#most;
  }

  get sum(): number {
    return this.#sum;
  }

  add(seconds: number, count: number): void {
    const step = Math.floor(seconds / STEP_SECONDS);
    this.#counts[step] = (this.#counts[step] ?? 0) + count;
    this.#count += count;
    this.#sum += seconds * count;
    this.#most = Math.max(this.#most, seconds);
  }

  /** The upper end of the step that a share of them lies within or below; 0 if there are none. */
  quantile(share: number): number {
    let left = share * this.#count;
    if (this.#count === 0) return 0;
    for (const [step, count = 0] of this.#counts.entries()) {
      left -= count;
      if (left <= 0) return Math.min(this.#most, (step + 1) * STEP_SECONDS);
    }
    return this.#most;
  }
}
