import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lnGamma } from '../../../lib/demand/lnGamma.ts';

describe('the logarithm of the gamma function', () => {
  it('is that of the factorials, and of the root of pi', () => {
    let factorial = 1;
    for (let n = 1; n <= 20; n++) {
      expect(lnGamma(n)).toBeCloseTo(Math.log(factorial), 8);
      factorial *= n;
    }
    expect(lnGamma(0.5)).toBeCloseTo(0.5 * Math.log(Math.PI), 8);
  });

  it('grows by the logarithm of x from x to x + 1', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.05, max: 500, noNaN: true }), (x) => {
        expect(lnGamma(x + 1) - lnGamma(x)).toBeCloseTo(Math.log(x), 7);
      }),
    );
  });
});
