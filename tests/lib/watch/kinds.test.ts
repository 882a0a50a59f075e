import { describe, expect, it } from 'vitest';
import { formatLocalDate } from '../../../shared/time/localDate.ts';
import { type Wire, wire, zoneOf } from '../../support/events.ts';
import { registryOf, unitRecord } from '../../support/fleet.ts';
import { FIRST_DATE, linesOf, play, type Script } from '../../support/household.ts';
import { replayLines } from '../../support/replayLines.ts';

const registry = registryOf(unitRecord());
const zone = zoneOf('America/New_York');
/** A household with a little life in it; a fixed pattern, so that each story is the same every time. */
const lively = (day: number) => 160 + 40 * Math.sin(day * 1.7) + 30 * Math.cos(day * 0.9);

function alertsOf(script: Script, more: readonly Wire[] = []) {
  return replayLines(linesOf([...play(script), ...more]), registry).alerts;
}

function said(kind: 'away' | 'at-home', on: number, from: number, to: number): Wire {
  const time = zone.startOf(FIRST_DATE + on) + 19 * 3_600_000;
  const data = { from: formatLocalDate(FIRST_DATE + from), to: formatLocalDate(FIRST_DATE + to) };
  return wire(kind, `${kind}-${on}`, time, data, time);
}

/** The local day, from 0, on which an instant lies. */
function dayOf(instant: string | undefined): number {
  return zone.dateAt(Date.parse(instant ?? '')) - FIRST_DATE;
}

describe('no-flow', () => {
  const stalled: Script = { days: 130, gallons: lively, registers: (day) => (day < 100 ? 1 : 0) };

  it('asks the household within days, and sends a technician within three weeks, as the zeros go on', () => {
    const [alert, ...others] = alertsOf(stalled);
    expect(others).toEqual([]);
    expect(alert).toMatchObject({
      kind: 'no-flow',
      cause: 'meter-stalled',
      severity: 'soon',
      clearedAt: null,
    });
    expect(alert?.history[0]?.severity).toBe('routine');
    expect(dayOf(alert?.raisedAt)).toBeLessThanOrEqual(100 + 6);
    const sent = alert?.history.find(({ severity }) => severity === 'soon');
    expect(dayOf(sent?.at)).toBeGreaterThan(dayOf(alert?.raisedAt));
    expect(dayOf(sent?.at)).toBeLessThanOrEqual(100 + 21);
    const probabilities = alert?.history.map(({ probability }) => probability) ?? [];
    expect(probabilities).toEqual([...probabilities].sort((a, b) => a - b));
  });

  it('holds its peace through an announced absence, and speaks when it is over and nothing flows', () => {
    const away = said('away', 99, 100, 114);
    const home: Script = { ...stalled, registers: (day) => (day >= 100 && day < 115 ? 0 : 1) };
    expect(alertsOf(home, [away])).toEqual([]);
    expect(alertsOf(home)).not.toEqual([]);
    const [alert] = alertsOf({ ...stalled, days: 160 }, [away]);
    expect(dayOf(alert?.raisedAt)).toBeGreaterThan(115);
  });

  it('is settled at once by a household that says that it was at home', () => {
    const [alert] = alertsOf({ ...stalled, days: 106 }, [said('at-home', 104, 101, 103)]);
    expect(alert).toMatchObject({ kind: 'no-flow', severity: 'soon' });
    expect(dayOf(alert?.history.find(({ severity }) => severity === 'soon')?.at)).toBe(104);
  });

  it('clears when the meter counts again, and learns from an absence how usual it is', () => {
    const twice: Script = {
      ...stalled,
      days: 330,
      registers: (day) =>
        (day >= 100 && day < 112) || (day >= 200 && day < 212) || (day >= 300 && day < 312) ? 0 : 1,
    };
    const raised = alertsOf(twice);
    for (const { clearedAt, severity } of raised)
      expect([clearedAt === null, severity]).toEqual([false, 'routine']);
    const delays = raised.map(({ raisedAt }) => dayOf(raisedAt) % 100);
    expect(delays).toEqual([...delays].sort((a, b) => a - b));
  });

  it('never sends anybody to a meter that has not registered water yet', () => {
    const severities = alertsOf({ days: 90, gallons: () => 0 }).map(({ severity }) => severity);
    expect(severities).not.toContain('soon');
  });
});

describe('no-salt-draw', () => {
  const lb = (value: number) => ({ value, unit: '[lb_av]' });
  const gallons = (value: number) => ({ value, unit: '[gal_us]' });
  const firstBad = 8;

  it('is told at the first regeneration that draws no brine, where brine is sensed', () => {
    const senses = (nth: number) => ({ brineDrawn: gallons(nth < firstBad ? 2.2 : 0.05) });
    const [alert] = alertsOf({ days: 60, gallons: lively, senses });
    expect(alert).toMatchObject({ kind: 'no-salt-draw', cause: 'brine-not-drawn' });
    expect(alert?.evidence).toMatchObject({ regenerationsWithoutSalt: expect.any(Number) });
    expect(alert?.history[0]?.severity).toBe('soon');
    // Hard water by the second.
    expect(alert?.severity).toBe('urgent');
  });

  // Deviations of a sensor, in its standard deviations, in an order that favours nobody.
  const noise = [0.3, -1.1, 0.8, -0.2, 1.4, -0.7, 0.1, -1.3, 0.9, 0.5, -0.4, 1.1, -0.9, 0.2, -0.1, 0.7];
  const reading = (true_: number, at: number) => lb(Math.round(true_ + 2 * (noise[at % noise.length] ?? 0)));

  it.each([
    ['salt-bridged', 120, 2.2],
    ['tank-empty', 1, 2.2],
    ['brine-not-drawn', 120, 0.03],
  ])('tells %s by the eighth regeneration from a level that is noisy by 2 lb', (cause, level, brine) => {
    const senses = (nth: number) => {
      const before = nth < firstBad ? level + 6 * (firstBad - nth) : level;
      const after = nth < firstBad ? before - 6 : before;
      return {
        saltBefore: reading(before, 2 * nth),
        saltAfter: reading(after, 2 * nth + 1),
        brineDrawn: gallons(nth < firstBad ? 2.2 : brine),
      };
    };
    const events = play({ days: 90, gallons: lively, senses });
    const bad = events.filter(({ type }) => type.includes('regeneration')).slice(firstBad);
    const alert = replayLines(linesOf(events), registry).alerts.find(({ kind }) => kind === 'no-salt-draw');
    expect(alert?.cause).toBe(cause);
    const nth = bad.filter(({ time }) => Date.parse(time) <= Date.parse(alert?.raisedAt ?? '')).length;
    expect(nth).toBeGreaterThanOrEqual(1);
    expect(nth).toBeLessThanOrEqual(8);
  });

  it('says nothing of a unit that carries no sensor that would tell, nor of one that draws its salt', () => {
    expect(alertsOf({ days: 90, gallons: lively }).filter(({ kind }) => kind === 'no-salt-draw')).toEqual([]);
    const senses = (nth: number) => ({
      saltBefore: reading(200 - 6 * nth, 2 * nth),
      saltAfter: reading(194 - 6 * nth, 2 * nth + 1),
      brineDrawn: gallons(2.2 + 0.2 * (noise[nth % noise.length] ?? 0)),
    });
    expect(
      alertsOf({ days: 120, gallons: lively, senses }).filter(({ kind }) => kind === 'no-salt-draw'),
    ).toEqual([]);
  });

  it('swallows the overrun that it leads to', () => {
    const senses = (nth: number) => ({ brineDrawn: gallons(nth < firstBad ? 2.2 : 0.05) });
    const alerts = alertsOf({ days: 60, gallons: lively, senses });
    expect(alerts.map(({ kind }) => kind)).toEqual(['no-salt-draw']);
    expect(alerts[0]?.evidence.consequences).toMatchObject([{ kind: 'overrun' }]);
  });
});

describe('overrun', () => {
  it('tells a control that counts on 30 % more than its dose gives, as one episode over all its cycles', () => {
    const alerts = alertsOf({ days: 60, gallons: lively, capacityGallons: () => 1300 });
    const overruns = alerts.filter(({ kind }) => kind === 'overrun');
    expect(overruns).toHaveLength(1);
    expect(overruns[0]).toMatchObject({ cause: 'capacity-setting' });
    // Once its cycles have told by what it goes, that is the alert, and the overrun is inside it.
    const settings = alerts.filter(({ kind }) => kind === 'setting-mismatch');
    expect(settings).toMatchObject([{ cause: 'capacity-too-high', clearedAt: null }]);
    expect(settings[0]?.evidence.consequences).toMatchObject([{ kind: 'overrun' }]);
  });

  it('is inside the alert of a control that has stopped regenerating, which grows urgent', () => {
    const alerts = alertsOf({ days: 40, gallons: lively, regenerates: (day) => day < 25 });
    const missed = alerts.find(({ kind }) => kind === 'missed-regeneration');
    expect(missed).toMatchObject({ cause: 'drive-failed', severity: 'urgent', clearedAt: null });
    expect(missed?.evidence.consequences).toMatchObject([{ kind: 'overrun' }]);
  });

  it('tells one great day that the reserve was too short for, and clears after a cycle without', () => {
    // Cycles of four days at 240 gallons: the eighth ends on day 31, with 280 gallons left and a reserve of 240.
    const [alert, ...others] = alertsOf({ days: 60, gallons: (day) => (day === 31 ? 900 : 240) });
    expect(others).toEqual([]);
    expect(alert).toMatchObject({ kind: 'overrun', cause: 'reserve-short', severity: 'routine' });
    expect(dayOf(alert?.raisedAt)).toBe(32);
    expect(alert?.clearedAt).not.toBeNull();
  });

  it('raises nothing while every cycle stays within', () => {
    expect(alertsOf({ days: 120, gallons: lively })).toEqual([]);
  });

  it('accuses nobody of what went unreported, with its regenerations, for days or weeks', () => {
    const events = play({ days: 140, gallons: lively });
    for (let gap = 1; gap <= 45; gap += 4) {
      for (let from = 60; from < 66; from++) {
        const reported = events.filter(({ time }) => {
          const day = zone.dateAt(Date.parse(time) - 1) - FIRST_DATE;
          return day < from || day >= from + gap;
        });
        // That it was silent is no accusation.
        const others = replayLines(linesOf(reported), registry).alerts.filter(
          ({ kind }) => kind !== 'silent-unit',
        );
        expect(others, `${gap} days from ${from}`).toEqual([]);
      }
    }
  });
});
