import { describe, expect, it } from 'vitest';
import { parseFaultMix } from '../../../lib/simulation/faultMix.ts';
import { planFleet } from '../../../lib/simulation/plan.ts';
import { type SimulatedUnit, simulateUnit } from '../../../lib/simulation/simulate.ts';
import type { Alert } from '../../../shared/alerts.ts';
import { parseLocalDate } from '../../../shared/time/localDate.ts';
import { registryOf } from '../../support/fleet.ts';
import { replayLines } from '../../support/replayLines.ts';

const UNITS = 40;
const DAY = 86_400_000;

/** A fleet for a year, each unit with the alerts that its events raise. */
function watched(faults: string): { unit: SimulatedUnit; alerts: Alert[] }[] {
  const start = parseLocalDate('2025-01-01') ?? 0;
  return planFleet({ units: UNITS, days: 365, start, seed: 77, faults: parseFaultMix(faults) }).map(
    (plan) => {
      const unit = simulateUnit(plan);
      const lines = unit.events.map((event) => JSON.stringify(event));
      return { unit, alerts: replayLines(lines, registryOf(unit.record)).alerts };
    },
  );
}

/** Days from a fault's first day to an instant. */
function daysAfter(from: string, instant: string): number {
  return (Date.parse(instant) - Date.parse(from)) / DAY;
}

// The bounds are three standard errors, at this size, from the figures that the README gives for larger fleets.
describe('over a simulated year', () => {
  it('stalled meters are sent for within three weeks', () => {
    const spells = watched('meter-stalled=1').flatMap(({ unit, alerts }) =>
      unit.truth
        .filter(({ what, from, to }) => what === 'fault' && (to === null || daysAfter(from, to) > 21))
        .map(({ from }) =>
          alerts.some(({ kind, history }) => {
            const sent = history.find(({ severity }) => severity !== 'routine');
            return (
              kind === 'no-flow' && sent && daysAfter(from, sent.at) > 0 && daysAfter(from, sent.at) < 22.5
            );
          }),
        ),
    );
    expect(spells.length).toBeGreaterThan(20);
    expect(spells.filter(Boolean).length / spells.length).toBeGreaterThan(0.85);
  });

  it('sound units are left in peace', () => {
    const alerts = watched('none').flatMap((each) => each.alerts);
    const of = (kind: string) => alerts.filter((alert) => alert.kind === kind);
    expect(of('no-salt-draw')).toEqual([]);
    expect(of('no-flow').length / UNITS).toBeLessThan(0.45);
    expect(of('no-flow').filter(({ severity }) => severity !== 'routine').length / UNITS).toBeLessThan(0.16);
    // A reserve that is short of a big day is the household's, not the softener's.
    expect(of('overrun').filter(({ severity }) => severity !== 'routine').length / UNITS).toBeLessThan(0.1);
  });

  it('no two open alerts of a unit say the same', () => {
    for (const { alerts } of watched('balanced')) {
      const spans = alerts.map(({ kind, raisedAt, clearedAt }) => ({
        kind,
        raisedAt,
        clearedAt: clearedAt ?? '9999',
      }));
      spans.forEach((one, index) => {
        for (const other of spans.slice(index + 1)) {
          const apart = other.raisedAt >= one.clearedAt || one.raisedAt >= other.clearedAt;
          expect(one.kind !== other.kind || apart).toBe(true);
        }
      });
    }
  });
});
