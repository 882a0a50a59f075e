import gammaCdf from '@stdlib/stats-base-dists-gamma-cdf';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { invert } from '../../../../lib/demand/backtest/invert.ts';

it('finds the quantiles of a gamma that may draw nothing, however narrow or wide', () => {
  const shape = fc.double({ min: 0.3, max: 200, noNaN: true });
  const nothing = fc.double({ min: 0, max: 0.9, noNaN: true });
  const chances = fc
    .array(fc.integer({ min: 1, max: 199 }), { minLength: 1, maxLength: 25 })
    .map((each) => each.map((p) => p / 200).sort((a, b) => a - b));
  fc.assert(
    fc.property(
      shape,
      nothing,
      fc.double({ min: 0.1, max: 1e4, noNaN: true }),
      chances,
      (a, none, mean, all) => {
        const below = (amount: number) => none + (1 - none) * gammaCdf(amount, a, a / mean);
        const quantiles = invert((amount) => 1 - below(amount), all, (1 - none) * mean);
        quantiles.forEach((quantile, index) => {
          const p = all[index] ?? 0;
          const slack = 2e-4 * mean;
          if (quantile === 0) expect(below(slack)).toBeGreaterThanOrEqual(p);
          else {
            expect(below(quantile - slack)).toBeLessThanOrEqual(p + 1e-9);
            expect(below(quantile + slack)).toBeGreaterThanOrEqual(p - 1e-9);
          }
          expect(quantile).toBeGreaterThanOrEqual(quantiles[index - 1] ?? 0);
        });
      },
    ),
    { numRuns: 1000 },
  );
});

it('is nothing where the mean is', () => {
  expect(invert(() => 0, [0.1, 0.9], 0)).toEqual([0, 0]);
});
