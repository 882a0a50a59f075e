import type { Family } from '../../lib/demand/backtest/family.ts';
import { weekdayOf } from '../../shared/time/localDate.ts';
import { rootN } from './rootN.ts';

const RATE = 0.15;
const DAYS_KEPT = 28;

/**
 * Linear quantile regression on lags, in shares of the mean of the last four weeks: yesterday, the same weekday last week,
 * the means of three, seven and 28 days, and the weekday. Learnt a day at a time by the subgradient of the pinball
 * loss with steps that shrink for each weight (AdaGrad), from the home's own days alone.
 */
export const quantileRegression: Family = {
  name: 'quantile regression on lags',
  begin: () => {
    const days: number[] = [];
    const learners = new Map<number, Learner>();
    let last = 0;
    const mean = (of: number) => {
      const some = days.slice(-of);
      return some.reduce((sum, each) => sum + each, 0) / Math.max(1, some.length);
    };
    const scaleNow = () => Math.max(mean(DAYS_KEPT), 0.05);
    const features = (date: number) => {
      const scale = scaleNow();
      const week = Array.from({ length: 7 }, (_, day) => (day === weekdayOf(date) ? 1 : 0));
      const lags = [days.at(-1), days.at(-7), mean(3), mean(7)].map((each) =>
        Math.min((each ?? scale) / scale, 4),
      );
      return [1, ...lags, ...week];
    };
    return {
      observe: (date, gallons) => {
        if (days.length >= 7) {
          const x = features(date);
          for (const learner of learners.values()) learner.learn(x, gallons / scaleNow());
        }
        days.push(gallons);
        if (days.length > DAYS_KEPT) days.shift();
        last = date;
      },
      skip: (date) => {
        last = date;
      },
      quantiles: (span, probabilities) => {
        const x = features(last + 1);
        const scale = scaleNow();
        const one = probabilities
          .map((p) => {
            const learner = learners.get(p) ?? new Learner(p, x.length);
            learners.set(p, learner);
            return Math.max(0, scale * learner.told(x));
          })
          .sort((a, b) => a - b);
        return span === 1 ? one : rootN(span, scale, one);
      },
    };
  },
};

class Learner {
  private readonly p: number;
  private readonly weights: number[];
  private readonly squares: number[];

  constructor(p: number, size: number) {
    this.p = p;
    this.weights = new Array<number>(size).fill(0);
    this.squares = new Array<number>(size).fill(1);
    this.weights[0] = 2 * p;
  }

  told(x: readonly number[]): number {
    return x.reduce((sum, each, index) => sum + each * (this.weights[index] ?? 0), 0);
  }

  learn(x: readonly number[], y: number): void {
    const slope = y > this.told(x) ? this.p : this.p - 1;
    x.forEach((each, index) => {
      const step = slope * each;
      const square = (this.squares[index] ?? 0) + step * step;
      this.squares[index] = square;
      this.weights[index] = (this.weights[index] ?? 0) + (RATE * step) / Math.sqrt(square);
    });
  }
}
