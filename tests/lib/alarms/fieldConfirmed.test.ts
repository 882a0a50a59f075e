import { describe, expect, it } from 'vitest';
import { type FieldOutcome, fieldConfirmed } from '../../../lib/alarms/fieldConfirmed.ts';
import { wilson } from '../../../lib/alarms/wilson.ts';

describe("Wilson's score interval", () => {
  // The test cases of codegolf.stackexchange.com/questions/105389 (successes, failures, z = 1.96).
  it.each([
    [0, 1, 0, 0.7934567085261071],
    [1, 1, 0.09452865480086611, 0.905471345199134],
    [1, 10, 0.016231752262825982, 0.3773646254862038],
    [10, 90, 0.05522854161313612, 0.1743673043676654],
    [75, 25, 0.6569535362992417, 0.8245490599627573],
    [100, 0, 0.9630051925239981, 1],
  ])('of %d successes and %d failures is as published', (successes, failures, low, high) => {
    const interval = wilson(successes, successes + failures, 1.96);
    expect(interval.low).toBeCloseTo(low, 12);
    expect(interval.high).toBeCloseTo(high, 12);
  });
});

describe('alerts confirmed in the field', () => {
  function judged(kind: 'no-flow' | 'overrun', counts: Partial<Record<FieldOutcome, number>>) {
    return Object.entries(counts).flatMap(([outcome, count]) =>
      Array.from({ length: count }, () => ({ kind, outcome: outcome as FieldOutcome })),
    );
  }

  it('are rated by kind and by visits, with 90 % intervals', () => {
    const [noFlow, overrun, ...others] = fieldConfirmed([
      ...judged('overrun', { confirmed: 15, 'nothing-found': 133, 'not-visited': 9 }),
      ...judged('no-flow', { confirmed: 7, 'other-cause': 2, 'nothing-found': 1 }),
    ]);
    expect(others).toEqual([]);
    expect(noFlow).toMatchObject({ kind: 'no-flow', visited: 10, notVisited: 0 });
    expect(noFlow?.confirmed.value).toBe(0.7);
    expect(overrun).toMatchObject({ kind: 'overrun', visited: 148, notVisited: 9 });
    // scipy.stats.binomtest(9, 10) and (15, 148): proportion_ci(confidence_level=.9, method='wilson'), scipy 1.17.1.
    expect(noFlow?.somethingFound).toEqual({
      value: 0.9,
      low: expect.closeTo(0.652281, 6),
      high: expect.closeTo(0.977365, 6),
    });
    expect(overrun?.confirmed).toEqual({
      value: 15 / 148,
      low: expect.closeTo(0.067443, 6),
      high: expect.closeTo(0.149573, 6),
    });
  });

  it('say nothing where nobody went', () => {
    const [rates] = fieldConfirmed(judged('overrun', { 'not-visited': 4 }));
    expect(rates).toMatchObject({ visited: 0, notVisited: 4 });
    expect(rates?.confirmed).toEqual({ value: null, low: 0, high: 1 });
  });
});
