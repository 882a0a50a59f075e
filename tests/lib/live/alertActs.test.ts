import fc from 'fast-check';
import { expect, it } from 'vitest';
import { aboutAlert, type DoneAct, handlingOf, withActs } from '../../../lib/live/alertActs.ts';
import type { AlertAct } from '../../../shared/facts.ts';

const act = fc.record({
  act: fc.constantFrom(
    'acknowledge' as const,
    'unacknowledge' as const,
    'shelve' as const,
    'unshelve' as const,
  ),
  at: fc.nat(40),
});
const acts = fc
  .array(act, { maxLength: 12 })
  .map((some) =>
    some
      .map((each): DoneAct => ({ ...each, by: 'desk', ...(each.act === 'shelve' && { until: each.at + 5 }) }))
      .sort((a, b) => a.at - b.at),
  );

it('comes out the same in whatever pieces acts become known, and however often a piece comes', () => {
  fc.assert(
    fc.property(acts, fc.array(fc.nat(40)), (all, cuts) => {
      const whole = withActs([], { since: null, acts: all });
      let kept: DoneAct[] = [];
      // Each piece goes back behind the one before, as far as chance will have it.
      for (const since of [null, ...cuts, 40]) {
        const piece = { since, acts: all.filter(({ at }) => since === null || at > since) };
        kept = withActs(withActs(kept, piece), piece);
      }
      expect(kept).toEqual(whole);
      expect(handlingOf(kept)).toEqual(handlingOf(all));
    }),
  );
});

it('keeps few, and of each sort the last', () => {
  const many = Array.from({ length: 1_000 }, (_, at): DoneAct => ({ act: 'unshelve', by: 'desk', at }));
  const kept = withActs([{ act: 'acknowledge', by: 'jo', at: -1 }], { since: -1, acts: many });
  expect(kept.length).toBeLessThan(20);
  expect(handlingOf(kept).acknowledged).toEqual({ by: 'jo', at: -1 });
});

it.each<[string, Partial<AlertAct>, boolean]>([
  ['an alert', { alertId: 'no-flow-500' }, true],
  ['an alert at the instant at which it is raised', { alertId: 'no-flow-1000' }, true],
  ['an alert that is raised only later', { alertId: 'no-flow-1001' }, false],
  ['what is no id of an alert', { alertId: 'no-flow' }, false],
  ['no alert', {}, false],
  ['an alert, with an end', { act: 'shelve', alertId: 'no-flow-500', until: 9 }, true],
  ['an alert, without an end', { act: 'shelve', alertId: 'no-flow-500' }, false],
  ['the unit', { act: 'remove-from-service', alertId: 'no-flow-500' }, false],
])('is read where it is about %s', (_, over, isRead) => {
  const accepted = { id: 'a', time: 1_000, known: 1_000, at: 1_000 };
  const read = aboutAlert({ kind: 'alert-act', ...accepted, act: 'acknowledge', by: 'desk', ...over });
  expect(read !== undefined).toBe(isRead);
});
