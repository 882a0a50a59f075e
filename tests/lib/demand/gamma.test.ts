import gammaCdf from '@stdlib/stats-base-dists-gamma-cdf';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { UnitGammaTail, unitGammaCdf, unitGammaQuantile } from '../../../lib/demand/gamma.ts';

/** Regularised incomplete gamma function P(a, x): DLMF 8.2, Abramowitz & Stegun 6.5; values computed from the series. */
const INCOMPLETE_GAMMA = [
  [0.5, 0.5, 0.6826894921],
  [1, 1, 0.6321205588],
  [2, 2, 0.5939941503],
  [3, 1, 0.0803013971],
  [5, 5, 0.5595067149],
  [10, 10, 0.5420702855],
  [0.5, 2, 0.9544997361],
] as const;

const cvs = (most: number) => fc.integer({ min: 5, max: 100 * most }).map((hundredths) => hundredths / 100);

/** What the table may be off by: beyond a coefficient of variation of 1 the gamma is steep at nothing. */
function tolerance(cv: number): number {
  return cv <= 1 ? 0.001 : 0.01;
}

describe('the gamma distribution of mean 1', () => {
  // @stdlib's is no measure here: it gives 0.0186.
  it('is right where it is narrow', () => {
    expect(unitGammaCdf(0.9553, 0.03)).toBeCloseTo(0.06645, 3); // scipy.special.gammainc(1 / 0.0009, 0.9553 / 0.0009)
  });

  it.each(INCOMPLETE_GAMMA)('has P(%d, %d) = %d', (a, x, value) => {
    expect(gammaCdf(x, a, 1)).toBeCloseTo(value, 9);
    // The same, scaled to mean 1: the coefficient of variation is 1 / sqrt(a).
    const cv = 1 / Math.sqrt(a);
    expect(Math.abs(unitGammaCdf(x / a, cv) - value)).toBeLessThan(tolerance(cv));
  });

  it('is that of @stdlib, within what the table may be off by', () => {
    fc.assert(
      fc.property(cvs(1.5), fc.integer({ min: 1, max: 500 }), (cv, hundredths) => {
        const shape = 1 / cv ** 2;
        const x = hundredths / 100;
        expect(Math.abs(unitGammaCdf(x, cv) - gammaCdf(x, shape, shape))).toBeLessThan(tolerance(cv));
      }),
      { numRuns: 2000 },
    );
  });

  it('has quantiles that its probabilities lead back from', () => {
    fc.assert(
      fc.property(cvs(1), fc.integer({ min: 2, max: 98 }), (cv, percent) => {
        const quantile = unitGammaQuantile(percent / 100, cv);
        expect(Math.abs(unitGammaCdf(quantile, cv) - percent / 100)).toBeLessThan(0.002);
      }),
      { numRuns: 1000 },
    );
  });

  it('has a tail whose excess is the integral of its probabilities', () => {
    for (const cv of [0.3, 0.5, 0.9]) {
      const tail = new UnitGammaTail();
      tail.begin(cv);
      for (const from of [0.2, 1, 1.7]) {
        let integral = 0;
        for (let x = from; x < 12; x += 0.001) integral += 0.001 * tail.probability(x + 0.0005);
        expect(tail.excess(from)).toBeCloseTo(integral, 2);
      }
    }
  });
});
