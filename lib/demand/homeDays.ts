import type { RegimesAhead } from './regimesAhead.ts';

/** Up to so many days ahead the days at home are counted one by one. */
export const COUNTED_DAYS = 60;
const WIDTH = COUNTED_DAYS + 1;
/** Numbers of days at home are passed over once they are less likely than this, and so are those who may still come to few. */
const LEAST = 1e-4;
const LEAST_AWAY = 1e-3;

/**
 * How many of the next n days a household is at home, for every n up to COUNTED_DAYS: exact for the chain of leaving and
 * returning. Of the three kinds of households that RegimesAhead tells apart, those away since the first day have not been at
 * home on any.
 */
export class HomeDays {
  /** P(k of n days at home), row by row. */
  private readonly counts = new Float64Array(WIDTH * WIDTH);
  private readonly home = new Float64Array(WIDTH + 1);
  private readonly later = new Float64Array(WIDTH + 1);
  private first = 0;
  private days = 0;
  /** The fewest days at home, but for none, that are likely enough, row by row. */
  private readonly fewest = new Int32Array(WIDTH);

  /** Starts over, the household being away with a probability now. */
  begin(away: number): void {
    this.days = 0;
    this.first = away;
    this.home[0] = 1 - away;
    this.later[0] = 0;
    this.fewest[0] = 0;
  }

  /** Counts up to `days` (COUNTED_DAYS at most), as far as the regimes are worked out. */
  upTo(days: number, { leaving, firstReturning, laterReturning }: RegimesAhead): void {
    while (this.days < days) {
      const next = this.days + 1;
      this.advance(leaving[next] as number, firstReturning[next] as number, laterReturning[next] as number);
    }
  }

  private advance(leaving: number, firstReturning: number, laterReturning: number): void {
    const { home, later, counts, first } = this;
    const isFirst = this.days === 0;
    this.days += 1;
    const { days } = this;
    const row = days * WIDTH;
    let fewest = Math.max(1, this.fewest[days - 1] as number);
    this.first = first * (1 - firstReturning) + (isFirst ? (home[0] as number) * leaving : 0);
    // Of k days at home so far, and of k - 1.
    let homeOf = 0;
    let laterOf = 0;
    for (let k = days; k >= fewest; k--) {
      const homeOfLess = home[k - 1] as number;
      const laterOfLess = later[k - 1] as number;
      const returned = k === 1 ? first * firstReturning : 0;
      const isHome = homeOfLess * (1 - leaving) + laterOfLess * laterReturning + returned;
      const isLater = homeOf * leaving + laterOf * (1 - laterReturning);
      home[k] = isHome;
      later[k] = isLater;
      counts[row + k] = isHome + isLater;
      homeOf = homeOfLess;
      laterOf = laterOfLess;
    }
    home[0] = 0;
    later[0] = 0;
    counts[row] = this.first;
    // Whoever was away all the while may still come to any number.
    if (this.first < LEAST_AWAY) {
      while (fewest < days && (counts[row + fewest] as number) < LEAST) {
        home[fewest] = 0;
        later[fewest] = 0;
        fewest += 1;
      }
    }
    this.fewest[days] = fewest;
  }

  /** Fewer of the next `days` days are hardly ever at home, but for none of them. */
  fewestOf(days: number): number {
    return this.fewest[days] as number;
  }

  /** Probability that `homeDays` of the next `days` days are at home. */
  probability(days: number, homeDays: number): number {
    return this.counts[days * WIDTH + homeDays] as number;
  }
}
