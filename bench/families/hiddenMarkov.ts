import gammaCdf from '@stdlib/stats-base-dists-gamma-cdf';
import type { Family } from '../../lib/demand/backtest/family.ts';
import { lnGamma } from '../../lib/demand/lnGamma.ts';
import { rootN } from './rootN.ts';

const GAIN = 0.16;
const CHANGE_GAIN = 0.02;
/** A dry day counts as so little, so that it has a density. */
const LEAST_GALLONS = 0.05;
const HALVINGS = 30;

/** A gamma that is learnt from days of some weight: mean and square smoothed. */
class Gamma {
  mean: number;
  square: number;

  constructor(mean: number, cv: number) {
    this.mean = mean;
    this.square = mean * mean * (1 + cv * cv);
  }

  get shape(): number {
    const variance = Math.max(this.square - this.mean * this.mean, 0.01 * this.mean * this.mean);
    return Math.min(Math.max((this.mean * this.mean) / variance, 0.3), 60);
  }

  density(x: number): number {
    const { shape } = this;
    const rate = shape / this.mean;
    return Math.exp(shape * Math.log(rate) + (shape - 1) * Math.log(x) - rate * x - lnGamma(shape));
  }

  below(x: number): number {
    return gammaCdf(x, this.shape, this.shape / this.mean);
  }

  learn(x: number, weight: number): void {
    this.mean += GAIN * weight * (x - this.mean);
    this.square += GAIN * weight * (x * x - this.square);
  }
}

/**
 * A hidden Markov chain of two states, each with a gamma of its own: filtered, with means, shapes and transitions learnt by
 * the way. No weekdays, no level that moves faster than its memory.
 */
export const hiddenMarkov: Family = {
  name: 'hidden Markov, two gammas',
  begin: () => {
    const high = new Gamma(138, 0.7);
    const low = new Gamma(5, 1.2);
    let away = 0.1;
    let leaving = 0.03;
    let returning = 0.3;
    const ahead = () => away * (1 - returning) + (1 - away) * leaving;
    return {
      observe: (_, gallons) => {
        const x = Math.max(gallons, LEAST_GALLONS);
        const before = ahead();
        const fromLow = before * low.density(x);
        const fromHigh = (1 - before) * high.density(x);
        const now = fromLow + fromHigh > 0 ? fromLow / (fromLow + fromHigh) : before;
        leaving += CHANGE_GAIN * (1 - away) * (now - leaving);
        returning += CHANGE_GAIN * away * (1 - now - returning);
        high.learn(x, 1 - now);
        low.learn(x, now);
        away = now;
      },
      skip: () => {
        away = ahead();
      },
      quantiles: (days, probabilities) => {
        const share = ahead();
        const most = 8 * Math.max(high.mean, low.mean) + 1;
        const below = (x: number) => share * low.below(x) + (1 - share) * high.below(x);
        const one = probabilities.map((p) => {
          let from = 0;
          let to = most;
          for (let step = 0; step < HALVINGS; step++) {
            const middle = (from + to) / 2;
            if (below(middle) < p) from = middle;
            else to = middle;
          }
          return from <= LEAST_GALLONS ? 0 : from;
        });
        return days === 1 ? one : rootN(days, share * low.mean + (1 - share) * high.mean, one);
      },
    };
  },
};
