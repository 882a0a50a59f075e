import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  brier,
  crpsOfEnsemble,
  crpsOfNormal,
  intervalScore,
  mase,
  pinball,
} from '../../../lib/demand/scores.ts';

// Each value is worked out by hand from the definition named, as the doc comments of the scores give it.
const CHECKS: [what: string, got: () => number, want: number, source: string][] = [
  [
    'pinball, p .9, q 100, y 120',
    () => pinball(0.9, 100, 120),
    18,
    'definition of the fabletools documentation',
  ],
  ['pinball, p .9, q 100, y 80', () => pinball(0.9, 100, 80), 2, 'the same'],
  ['CRPS of N(0,1), y 0', () => crpsOfNormal(0, 1, 0), 0.233695, 'Gneiting & Raftery 2007, closed form'],
  ['CRPS of N(0,1), y 1', () => crpsOfNormal(0, 1, 1), 0.6024414, 'the same'],
  ['CRPS of N(0,1), y 2', () => crpsOfNormal(0, 1, 2), 1.4527918, 'the same'],
  ['CRPS of {1,2,4}, y 3', () => crpsOfEnsemble([1, 2, 4], 3), 2 / 3, 'Gneiting & Raftery 2007'],
  [
    'interval [80,120], alpha .2, y 100',
    () => intervalScore(0.2, 80, 120, 100),
    40,
    'Gneiting & Raftery 2007',
  ],
  ['interval [80,120], alpha .2, y 130', () => intervalScore(0.2, 80, 120, 130), 140, 'the same'],
  ['interval [80,120], alpha .05, y 70', () => intervalScore(0.05, 80, 120, 70), 440, 'the same'],
  ['MASE', () => mase([10, 12, 11, 13, 12], [12, 12], [14, 11]), 1, 'Hyndman & Koehler 2006'],
  [
    'Brier',
    () =>
      brier([
        { probability: 0.9, happened: true },
        { probability: 0.2, happened: false },
        { probability: 0.6, happened: true },
      ]),
    0.07,
    'Brier 1950; from memory, unverified',
  ],
];

describe('scores', () => {
  it.each(CHECKS)('%s', (_, got, want) => expect(got()).toBeCloseTo(want, 6));

  it('are least, on the whole, for the quantile that is true', () => {
    fc.assert(
      fc.property(fc.integer({ min: 5, max: 95 }), fc.integer({ min: -40, max: 40 }), (percent, off) => {
        // Of the whole numbers 1 to 100, `percent` lie at or under that number.
        const total = (quantile: number) =>
          Array.from({ length: 100 }, (_, index) => pinball(percent / 100, quantile, index + 1)).reduce(
            (a, b) => a + b,
          );
        expect(total(percent + 0.5)).toBeLessThanOrEqual(total(percent + 0.5 + off) + 1e-9);
      }),
    );
  });

  it('are refused where they are not defined', () => {
    for (const score of [
      () => mase([5, 5, 5], [5], [5]),
      () => mase([5], [5], [5]),
      () => mase([5, 6], [5, 6], [5]),
      () => mase([5, 6], [], []),
      () => crpsOfEnsemble([], 1),
      () => brier([]),
    ]) {
      expect(score).toThrow(expect.objectContaining({ code: 'undefined-score' }));
    }
  });
});
