/** A limit on how much may be used a second: a token bucket. It holds no more than a second's worth unless told so. */
export class Bucket {
  #rate: number;
  #held: number;
  #filledAt = 0;
  readonly #seconds: number;
  #used = 0;
  #refused = 0;
  #peak = 0;
  #second = 0;
  #inSecond = 0;

  /**
   * @param rate a second; infinite where there is no limit
   * @param seconds how many seconds' worth it holds when full
   */
  constructor(rate: number, seconds = 1) {
    this.#rate = rate;
    this.#seconds = seconds;
    this.#held = rate * seconds;
  }

  get rate(): number {
    return this.#rate;
  }

  /** All that was let through. */
  get used(): number {
    return this.#used;
  }

  /** All that was turned away, each time it was. */
  get refused(): number {
    return this.#refused;
  }

  /** The most that was let through within one second. */
  get peak(): number {
    return Math.max(this.#peak, this.#inSecond);
  }

  /** Changes the rate from now on. */
  setRate(rate: number, now: number): void {
    this.#fill(now);
    this.#rate = rate;
  }

  /** How much may be taken now. */
  available(now: number): number {
    this.#fill(now);
    return this.#held;
  }

  /** Takes what is there to take; never more than {@link available} said. */
  take(amount: number, now: number): void {
    this.#fill(now);
    this.#held -= amount;
    this.#used += amount;
    const second = Math.floor(now);
    if (second !== this.#second) {
      this.#peak = Math.max(this.#peak, this.#inSecond);
      this.#second = second;
      this.#inSecond = 0;
    }
    this.#inSecond += amount;
  }

  /** Notes that so much was turned away. */
  refuse(amount: number): void {
    this.#refused += amount;
  }

  #fill(now: number): void {
    if (this.#rate === Number.POSITIVE_INFINITY) return;
    this.#held = Math.min(this.#rate * this.#seconds, this.#held + (now - this.#filledAt) * this.#rate);
    this.#filledAt = now;
  }
}
