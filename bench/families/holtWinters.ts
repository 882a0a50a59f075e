/** Smoothing constants, each 0 to 1; the trend's in the form that weighs the level's last step (Holt 1957, beta*). */
export interface Gains {
  readonly level: number;
  readonly trend: number;
  readonly season: number;
}

/** A level or factor nearer to 0 than this says nothing to divide by; the level itself stays above 0. */
const LEAST = { level: 0.01, base: 1, factor: 0.2 } as const;

/** Exponential smoothing with a level, a trend and a multiplicative season (Holt and Winters), corrected by its errors. */
export class HoltWinters {
  private readonly gains: Gains;
  private readonly season: number[];
  private level: number;
  private trend: number;

  constructor(gains: Gains, start: { level: number; trend: number; season: readonly number[] }) {
    this.gains = gains;
    this.level = start.level;
    this.trend = start.trend;
    this.season = [...start.season];
  }

  /** What the `ahead`-th period from now is expected to be; `at` is its place in the season. */
  expected(at: number, ahead = 1): number {
    return (this.level + ahead * this.trend) * this.factor(at);
  }

  /** What a period without its season is expected to be. */
  get usual(): number {
    return this.level;
  }

  /** Takes in the next period; `at` is its place in the season. */
  observe(at: number, value: number): void {
    const { gains } = this;
    const factor = this.factor(at);
    const base = this.level + this.trend;
    const error = value - base * factor;
    const level = Math.max(LEAST.level, base + (gains.level * error) / Math.max(factor, LEAST.factor));
    this.trend += gains.trend * (level - this.level - this.trend);
    this.season[at] = factor + (gains.season * error) / Math.max(base, LEAST.base);
    this.level = level;
  }

  private factor(at: number): number {
    return this.season[at] ?? 1;
  }
}
