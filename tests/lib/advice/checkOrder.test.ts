import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkOrder, type Suspicion } from '../../../lib/advice/checkOrder.ts';
import { CHECKS, type CheckName } from '../../../lib/advice/checks.ts';
import { type AlertCause, CAUSES } from '../../../shared/alerts.ts';
import { plainCheckOrder } from '../../support/plain/checkOrder.ts';

const suspects: readonly Suspicion['suspect'][] = [
  ...new Set(Object.values(CAUSES).flat() as AlertCause[]),
  'nothing',
];

function of(weights: Readonly<Partial<Record<Suspicion['suspect'], number>>>): Suspicion[] {
  return (Object.entries(weights) as [Suspicion['suspect'], number][]).map(([suspect, probability]) => ({
    suspect,
    probability,
  }));
}

function names(weights: Parameters<typeof of>[0]): CheckName[] {
  return checkOrder(of(weights)).map(({ check }) => check);
}

describe('the order of checks', () => {
  it('begins with the quick look that splits the likeliest suspects', () => {
    // The trade's own order: the tank before the tools, the flow indicator before the turbine, the clock at a glance.
    expect(names({ 'tank-empty': 0.5, 'salt-bridged': 0.25, 'brine-not-drawn': 0.25 })[0]).toBe(
      'look-into-brine-tank',
    );
    expect(names({ 'meter-stalled': 0.8, nothing: 0.2 })[0]).toBe('flow-indicator');
    expect(names({ 'twelve-hours': 0.5, drift: 0.4, nothing: 0.1 })[0]).toBe('clock-within-an-hour');
    expect(names({ 'not-in-service': 0.5, 'drive-failed': 0.5 })[0]).toBe('settings-read-back');
  });

  it('has nothing to check where only one thing can be true, and shows every cause by some check', () => {
    for (const suspect of suspects) expect(checkOrder([{ suspect, probability: 1 }])).toEqual([]);
    const shown = new Set(Object.values(CHECKS).flatMap(({ shows }) => Object.keys(shows)));
    expect(suspects.filter((each) => !shown.has(each))).toEqual([]);
  });

  it('never expects to learn more than is unknown, hangs on no order of the suspects, and is what weighing all checks gives', () => {
    const suspicions = fc
      .uniqueArray(
        fc.record({ suspect: fc.constantFrom(...suspects), weight: fc.integer({ min: 0, max: 99 }) }),
        {
          selector: ({ suspect }) => suspect,
          minLength: 2,
          maxLength: 6,
        },
      )
      .filter((all) => all.some(({ weight }) => weight > 0))
      .map((all) => {
        const sum = all.reduce((total, { weight }) => total + weight, 0);
        return all.map(({ suspect, weight }) => ({ suspect, probability: weight / sum }));
      });
    fc.assert(
      fc.property(suspicions, (all) => {
        const order = checkOrder(all);
        const unknown = -all.reduce((sum, { probability: p }) => (p > 0 ? sum + p * Math.log2(p) : sum), 0);
        const learnt = order.reduce((sum, { bits }) => sum + bits, 0);
        expect(learnt).toBeLessThanOrEqual(unknown + 1e-9);
        expect(order).toEqual(plainCheckOrder(all));
        expect(new Set(order.map(({ check }) => check)).size).toBe(order.length);
        expect(checkOrder([...all].reverse()).map(({ check }) => check)).toEqual(
          order.map(({ check }) => check),
        );
      }),
    );
  });
});
