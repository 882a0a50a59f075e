import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { GRID } from '../../../../lib/demand/backtest/grid.ts';
import { binShares, crpsOfQuantiles } from '../../../../lib/demand/backtest/quantileScores.ts';
import { crpsOfEnsemble, crpsOfNormal } from '../../../../lib/demand/scores.ts';

/** Quantiles of the standard normal on the grid, 5 to 95 %. Source: tables of the normal distribution. */
const UPPER = [0.125661, 0.253347, 0.38532, 0.524401, 0.67449, 0.841621, 1.036433, 1.281552, 1.644854];
const NORMAL = [...UPPER.map((z) => -z).reverse(), 0, ...UPPER];

describe('CRPS of 19 quantiles', () => {
  // The closed form of Gneiting & Raftery 2007: 0.2336950 at 0, 0.6024414 at 1, 1.4527918 at 2.
  it.each([
    [0, 0.015],
    [0.5, 0.015],
    [1, 0.015],
    [1.5, 0.015],
    [2, 0.015],
    [3, 0.04],
  ])('of N(0,1) at %f is within %f of the closed form', (actual, share) => {
    const exact = crpsOfNormal(0, 1, actual);
    expect(Math.abs(crpsOfQuantiles(GRID, NORMAL, actual) - exact)).toBeLessThan(share * exact);
  });

  it('comes to that of an ensemble when the grid gets finer', () => {
    const members = fc.array(fc.integer({ min: 0, max: 100 }), { minLength: 2, maxLength: 12 });
    fc.assert(
      fc.property(members, fc.integer({ min: -20, max: 120 }), (ensemble, actual) => {
        const sorted = [...ensemble].sort((a, b) => a - b);
        const fine = Array.from({ length: 3999 }, (_, index) => (index + 1) / 4000);
        const quantiles = fine.map(
          (p) => sorted[Math.min(Math.floor(p * sorted.length), sorted.length - 1)] ?? 0,
        );
        expect(crpsOfQuantiles(fine, quantiles, actual)).toBeCloseTo(crpsOfEnsemble(ensemble, actual), 1);
      }),
    );
  });
});

describe('the bins between quantiles', () => {
  it('share out whole values, each in the bins that touch it', () => {
    const quantiles = fc
      .array(fc.integer({ min: 0, max: 9 }), { minLength: 1, maxLength: 12 })
      .map((values) => values.sort((a, b) => a - b));
    fc.assert(
      fc.property(quantiles, fc.integer({ min: 0, max: 10 }), (bounds, actual) => {
        const shares = binShares(bounds, actual);
        expect(shares).toHaveLength(bounds.length + 1);
        expect(shares.reduce((sum, each) => sum + each)).toBeCloseTo(1, 12);
        shares.forEach((share, bin) => {
          const touches = (bounds[bin - 1] ?? -1) <= actual && actual <= (bounds[bin] ?? 11);
          expect(share > 0).toBe(touches);
        });
      }),
    );
  });

  it('are level where days without use are forecast as often as they come', () => {
    // Of 1,000 days 325 are without use, and forecast so; the others are uniform from 0 to 6.75.
    const quantiles = GRID.map((p) => Math.max(0, 10 * p - 3.25));
    const came = [
      ...Array.from({ length: 325 }, () => 0),
      ...Array.from({ length: 675 }, (_, index) => (index + 0.5) / 100),
    ];
    const sums = Array.from({ length: 20 }, (_, bin) =>
      came.reduce((sum, each) => sum + (binShares(quantiles, each)[bin] ?? 0), 0),
    );
    for (const sum of sums) expect(Math.abs(sum / came.length - 0.05)).toBeLessThan(0.006);
  });
});
