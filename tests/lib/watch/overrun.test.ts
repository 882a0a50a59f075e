import { describe, expect, it } from 'vitest';
import { formatInstant } from '../../../shared/time/instant.ts';
import { episodesOf } from '../../support/episodesOf.ts';
import { flowDay, regeneration, type Wire, wire, zoneOf } from '../../support/events.ts';
import { registryOf, unitRecord } from '../../support/fleet.ts';
import { FIRST_DATE, linesOf, play, type Script } from '../../support/household.ts';
import { replayLines } from '../../support/replayLines.ts';

const ZONE = zoneOf('America/New_York');

function at(day: number, hour: number) {
  return ZONE.startOf(FIRST_DATE + day) + hour * 3_600_000;
}

function settings(day: number, hour: number, capacity: number): Wire {
  const data = {
    hardness: { value: 20, unit: '[gr]/[gal_us]' },
    capacity: { value: capacity, unit: '[gr]' },
    regenerationHour: 2,
    mode: 'service',
  };
  return wire('settings', `settings-${day}`, at(day, hour), data, at(day, hour));
}

function alertsOf(script: Script, more: readonly Wire[] = [], over: Record<string, unknown> = {}) {
  return episodesOf('overrun', [...play(script), ...more], unitRecord(over));
}

function dayOf(instant: string | null | undefined): number {
  return ZONE.dateAt(Date.parse(instant ?? '')) - FIRST_DATE;
}

/** Cycles of four days at 240 gallons; on day 31 the bed has 280 gallons left, and so much is drawn. */
const oneGreatDay = (gallons: number): Script => ({
  days: 60,
  gallons: (day) => (day === 31 ? gallons : 240),
});

describe('overrun', () => {
  it('leaves a reserve that was a little short in peace, and shows one that did harm', () => {
    // The bed gives 1,000 gallons: 8 % and 30 % over.
    expect(alertsOf(oneGreatDay(360))).toEqual([]);
    expect(alertsOf(oneGreatDay(580))).toMatchObject([{ cause: 'reserve-short', severity: 'routine' }]);
  });

  it('shows a short reserve that comes back in cycle after cycle', () => {
    // Four quiet days and a great one: each fifth day takes the bed 12 % over, and the control was not due before it.
    const again: Script = { days: 60, gallons: (day) => (day % 5 === 4 ? 700 : 105) };
    const [alert] = alertsOf(again);
    expect(alert).toMatchObject({ cause: 'reserve-short', severity: 'routine' });
    expect(alert?.summary).toMatch(/as in each of the last \d cycles/);
  });

  it('says nothing new when a setting that was too high is put right', () => {
    const wrong: Script = {
      days: 60,
      gallons: () => 170,
      capacityGallons: (day) => (day < 40 ? 1500 : 1000),
    };
    const events = [...play(wrong), settings(3, 9, 30_000)];
    const before = episodesOf('overrun', events);
    expect(before.every(({ cause }) => cause === 'capacity-setting')).toBe(true);
    // The same story, but that the wrong setting was known, told under its own kind, and corrected on any day.
    for (let day = 36; day < 44; day++) {
      const corrected = [...play({ ...wrong, capacityGallons: (on) => (on <= day ? 1500 : 1000) })];
      const lines = linesOf([...corrected, settings(3, 9, 30_000), settings(day, 14, 20_000)]);
      const { alerts } = replayLines(lines, registryOf(unitRecord()));
      const raised = alerts.filter(({ kind, raisedAt }) => kind === 'overrun' && dayOf(raisedAt) >= day);
      expect(raised, `corrected on day ${day}`).toEqual([]);
    }
  });

  it('does not take two cycles for one where the report between them is late', () => {
    const events = play({ days: 60, gallons: () => 190 });
    const days = events.filter(({ type }) => type.includes('regeneration')).map(({ time }) => dayOf(time));
    for (const late of days.slice(3, 10)) {
      const lines = linesOf(
        events.map((event) =>
          event.type.includes('regeneration') && dayOf(event.time) === late
            ? { ...event, recordedtime: formatInstant(at(late + 7, 12)) }
            : event,
        ),
      );
      const { alerts } = replayLines(lines, registryOf(unitRecord()));
      const soon = alerts.filter(({ kind, severity }) => kind === 'overrun' && severity !== 'routine');
      expect(soon, `that of day ${late}`).toEqual([]);
    }
  });

  it('trusts a pair of beds that took their turn, whenever the water of that day was drawn', () => {
    const events: Wire[] = [];
    for (let day = 0; day < 80; day++) {
      // 400 gallons in four days; on the fifth 1,400, most of it after the 600 that the bed still had.
      const isGreat = day % 5 === 4;
      const regenerates = isGreat ? 23 : day % 5 === 1 ? 12 : null;
      if (regenerates !== null) events.push(regeneration(ZONE, FIRST_DATE + day, regenerates));
      events.push(flowDay(ZONE, FIRST_DATE + day, isGreat ? 1400 : 100));
    }
    expect(episodesOf('overrun', events, unitRecord({ arrangement: 'alternating' }))).toEqual([]);
    // A single bed, asked at its hour only, would have run over.
    expect(episodesOf('overrun', events)).not.toEqual([]);
  });

  it('ranks its causes, and the weights sum to 1', () => {
    for (const capacity of [1200, 1400, 1700]) {
      const alerts = alertsOf({
        days: 60,
        gallons: () => 190,
        capacityGallons: (day) => (day < 30 ? 1000 : capacity),
      });
      expect(alerts.length).toBeGreaterThan(0);
      for (const { evidence, cause } of alerts) {
        const causes = evidence.causes as { cause: string; probability: number }[];
        expect(causes[0]?.cause).toBe(cause);
        expect(causes.reduce((sum, { probability }) => sum + probability, 0)).toBeCloseTo(1, 2);
      }
    }
  });
});
