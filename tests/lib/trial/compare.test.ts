import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type AlertPair, compareAlerts } from '../../../lib/trial/compare.ts';
import type { Alert } from '../../../shared/alerts.ts';
import { alert, unitAlerts } from './alerts.ts';

const WEEK_MS = 7 * 86_400_000;

const byText = (alerts: readonly (Alert | null)[]) =>
  alerts
    .filter((each) => each !== null)
    .map((each) => JSON.stringify(each))
    .sort();

function swapped({ change, raisedDays, before, after, ...rest }: AlertPair): AlertPair {
  const turned = { same: 'same', moved: 'moved', gone: 'new', new: 'gone' } as const;
  const days = raisedDays === null ? null : 0 - raisedDays;
  return { ...rest, change: turned[change], raisedDays: days, before: after, after: before };
}

function spanOf({ raisedAt, clearedAt }: Alert) {
  const to = clearedAt === null ? Number.POSITIVE_INFINITY : Date.parse(clearedAt);
  return { from: Date.parse(raisedAt), to };
}

/** Said anew, in other words than the code's: they share an instant, or their beginnings share a week. */
function couldBeOne(one: Alert, other: Alert): boolean {
  const [a, b] = [spanOf(one), spanOf(other)];
  const shareAnInstant = Math.max(a.from, b.from) <= Math.min(a.to, b.to);
  return one.kind === other.kind && (shareAnInstant || Math.abs(a.from - b.from) <= WEEK_MS);
}

describe('alerts by two sets of rules', () => {
  it('are each in exactly one pair', () => {
    fc.assert(
      fc.property(unitAlerts, unitAlerts, (before, after) => {
        const pairs = compareAlerts(before, after);
        expect(byText(pairs.map((pair) => pair.before))).toEqual(byText(before));
        expect(byText(pairs.map((pair) => pair.after))).toEqual(byText(after));
      }),
    );
  });

  it('are all the same where the lists are, in whatever order they come', () => {
    const shuffled = unitAlerts.chain((alerts) =>
      fc.tuple(fc.constant(alerts), fc.shuffledSubarray(alerts, { minLength: alerts.length })),
    );
    fc.assert(
      fc.property(shuffled, ([alerts, again]) => {
        for (const pair of compareAlerts(alerts, again))
          expect(pair).toMatchObject({ change: 'same', moves: [], raisedDays: 0, after: pair.before });
      }),
    );
  });

  it('change sides and nothing else when the rules do', () => {
    fc.assert(
      fc.property(unitAlerts, unitAlerts, (before, after) => {
        expect(compareAlerts(after, before).map(swapped)).toEqual(compareAlerts(before, after));
      }),
    );
  });

  it('are paired where they could be one, and none is left beside another that it could be', () => {
    fc.assert(
      fc.property(unitAlerts, unitAlerts, (before, after) => {
        const pairs = compareAlerts(before, after);
        for (const { before: a, after: b } of pairs) if (a && b) expect(couldBeOne(a, b)).toBe(true);
        const gone = pairs.flatMap((pair) => (pair.change === 'gone' && pair.before ? [pair.before] : []));
        const fresh = pairs.flatMap((pair) => (pair.change === 'new' && pair.after ? [pair.after] : []));
        expect(gone.filter((a) => fresh.some((b) => couldBeOne(a, b)))).toEqual([]);
      }),
    );
  });

  it('name what differs of a pair, and only that', () => {
    fc.assert(
      fc.property(unitAlerts, unitAlerts, (before, after) => {
        for (const { change, moves, before: a, after: b } of compareAlerts(before, after)) {
          if (!a || !b) {
            expect(moves).toEqual([]);
            continue;
          }
          expect(moves.includes('raised')).toBe(a.raisedAt !== b.raisedAt);
          expect(moves.includes('cleared')).toBe(a.clearedAt !== b.clearedAt);
          expect(moves.includes('cause')).toBe(a.cause !== b.cause);
          // A twentieth, as the contract has it of an alert's history.
          expect(moves.includes('probability')).toBe(Math.abs(a.probability - b.probability) >= 0.05);
          if (a.severity !== b.severity) expect(moves).toContain('severity');
          expect(change).toBe(moves.length === 0 ? 'same' : 'moved');
        }
      }),
    );
  });
});

describe('pairs', () => {
  const overrun = (raisedAt: string, clearedAt: string | null = null) =>
    alert({ kind: 'overrun', raisedAt, clearedAt });

  it('are of those that begin closest together', () => {
    const before = [overrun('2026-01-01T12:00:00.000Z', '2026-01-03T12:00:00.000Z')];
    const near = overrun('2026-01-03T12:00:00.000Z', '2026-01-05T12:00:00.000Z');
    const far = overrun('2026-01-07T12:00:00.000Z');
    expect(compareAlerts(before, [far, near])).toMatchObject([
      { change: 'moved', moves: ['raised', 'cleared'], raisedDays: 2, after: near },
      { change: 'new', after: far },
    ]);
  });

  it('are none of what begins later than a week after, unless both last', () => {
    const long = overrun('2026-01-01T12:00:00.000Z');
    const short = overrun('2026-01-01T12:00:00.000Z', '2026-01-02T12:00:00.000Z');
    const later = overrun('2026-01-08T12:00:00.001Z', '2026-01-09T12:00:00.000Z');
    expect(compareAlerts([short], [later])).toMatchObject([{ change: 'gone' }, { change: 'new' }]);
    expect(compareAlerts([long], [later])).toMatchObject([{ change: 'moved', raisedDays: 7 }]);
  });

  it('tell a severity that comes sooner from one that comes later', () => {
    const stalled = (soonAt: string) =>
      alert({
        ...{ kind: 'no-flow', raisedAt: '2026-01-05T17:00:00.000Z', severity: 'soon' },
        history: [
          { at: '2026-01-05T17:00:00.000Z', severity: 'routine', probability: 0.3 },
          { at: soonAt, severity: 'soon', probability: 0.9 },
        ],
      });
    expect(
      compareAlerts([stalled('2026-01-20T17:00:00.000Z')], [stalled('2026-01-13T17:00:00.000Z')]),
    ).toMatchObject([{ change: 'moved', moves: ['severity'] }]);
  });
});
