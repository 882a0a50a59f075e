import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isDue, reserveGallons } from '../../../lib/unit/control.ts';
import { episodesOf } from '../../support/episodesOf.ts';
import { flowDay, regeneration, type Wire, wire, zoneOf } from '../../support/events.ts';
import { unitRecord } from '../../support/fleet.ts';

const ZONE = zoneOf('America/New_York');
const FIRST_DATE = Date.parse('2026-01-05T00:00:00Z') / 86_400_000;
/** What a whole dose gives the unit: 20,000 grains at 20 gpg. */
const GALLONS = 1000;

type Trigger = 'metered' | 'manual' | 'override';

interface Story {
  days: number;
  gallons?: (day: number) => number;
  /** What the control goes by, gallons. */
  capacity?: (day: number) => number;
  /** A regeneration that is not due, so many hours into the day; `since` is the number of days since the last. */
  also?: (day: number, since: number) => { hour: number; trigger: Trigger } | undefined;
  alternating?: boolean;
}

/** A household with a little life in it; a fixed pattern, so that each story is the same every time. */
const lively = (day: number) => 190 + 40 * Math.sin(day * 1.7) + 30 * Math.cos(day * 0.9);

function play({ days, gallons = lively, capacity = () => GALLONS, also, alternating }: Story): Wire[] {
  const events: Wire[] = [];
  const previous: number[] = [];
  let counted = 0;
  let since = 0;
  for (let day = 0; day < days; day++) {
    const date = FIRST_DATE + day;
    since += 1;
    const reserve = alternating ? 0 : reserveGallons(previous);
    const regenerate = (hour: number, trigger: Trigger) => {
      events.push(regeneration(ZONE, date, hour, { trigger }));
      counted = 0;
      since = 0;
    };
    if (isDue(capacity(day) - counted, reserve)) regenerate(2, 'metered');
    const other = since > 0 ? also?.(day, since) : undefined;
    // What is drawn before an hour of the day is not what these stories are about.
    if (other) regenerate(other.hour, other.trigger);
    events.push(flowDay(ZONE, date, gallons(day)));
    previous.push(gallons(day));
    counted += gallons(day);
  }
  return events;
}

function alertsOf(story: Story, more: readonly Wire[] = [], over: Record<string, unknown> = {}) {
  return episodesOf('early-regeneration', [...play(story), ...more], unitRecord(over));
}

function dayOf(instant: string | null | undefined): number {
  return ZONE.dateAt(Date.parse(instant ?? '')) - FIRST_DATE;
}

function settings(day: number, capacity: number): Wire {
  return wire('settings', `settings-${day}`, ZONE.startOf(FIRST_DATE + day) + 9 * 3_600_000, {
    hardness: { value: 20, unit: '[gr]/[gal_us]' },
    capacity: { value: capacity, unit: '[gr]' },
    regenerationHour: 2,
  });
}

describe('early-regeneration', () => {
  it('says nothing of beds that are used up, however long they last and however uneven the household is', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 25, max: 330 }),
        fc.array(fc.integer({ min: 10, max: 250 }), { minLength: 5, maxLength: 23 }),
        fc.integer({ min: 90, max: 115 }),
        (mean, percents, setPercent) => {
          const gallons = (day: number) => (mean * (percents[day % percents.length] ?? 100)) / 100;
          expect(alertsOf({ days: 150, gallons, capacity: () => 10 * setPercent })).toEqual([]);
        },
      ),
      { numRuns: 60 },
    );
  });

  it.each([
    ['on the morning after each that was due', (_: number, since: number) => since === 1],
    ['on nearly every morning', (day: number) => day % 9 !== 0],
    ['on every second morning', (_: number, since: number) => since === 2],
  ])('tells a control that regenerates again %s', (_, isAgain) => {
    const also = (day: number, since: number) =>
      day >= 60 && day < 100 && isAgain(day, since) ? { hour: 2, trigger: 'metered' as const } : undefined;
    const alerts = alertsOf({ days: 160, also });
    expect(alerts).toMatchObject([{ cause: 'repeated' }]);
    expect(dayOf(alerts[0]?.raisedAt)).toBeLessThanOrEqual(60 + 25);
    expect(alerts[0]?.clearedAt).not.toBeNull();
  });

  it('tells a household that regenerates by hand every other day, but not one that did it once or twice', () => {
    const byHand = (until: number, every: number) => (day: number) =>
      day >= 60 && day < until && day % every === 0 ? { hour: 19, trigger: 'manual' as const } : undefined;
    const alerts = alertsOf({ days: 90, also: byHand(90, 2) });
    expect(alerts).toMatchObject([{ cause: 'manual', severity: 'routine' }]);
    expect(dayOf(alerts[0]?.raisedAt)).toBeLessThanOrEqual(60 + 10);
    expect(alertsOf({ days: 120, also: byHand(63, 2) })).toEqual([]);
  });

  it('tells a control that is set to much less than is known, and one that is known to be', () => {
    const capacity = (day: number) => (day < 60 ? GALLONS : 0.6 * GALLONS);
    expect(alertsOf({ days: 100, capacity })).toMatchObject([{ cause: 'capacity-setting' }]);
    expect(alertsOf({ days: 100, capacity }, [settings(60, 12_000)])).toMatchObject([
      { cause: 'capacity-setting' },
    ]);
    const mended = alertsOf({ days: 140, capacity: (day) => (day < 100 ? capacity(day) : GALLONS) });
    expect(mended).toHaveLength(1);
    expect(dayOf(mended[0]?.clearedAt)).toBeLessThanOrEqual(110);
  });

  it('holds a calendar limit against nobody who uses little, but one of three days against a family', () => {
    const limit = (days: number) => (_: number, since: number) =>
      since >= days ? { hour: 2, trigger: 'override' as const } : undefined;
    expect(alertsOf({ days: 200, gallons: (day) => 0.2 * lively(day), also: limit(10) })).toEqual([]);
    expect(alertsOf({ days: 100, also: limit(2) })).toMatchObject([{ cause: 'repeated' }]);
  });

  it('holds against nobody what a technician started', () => {
    const days = [60, 62, 64, 66, 68];
    const also = (day: number) => (days.includes(day) ? { hour: 14, trigger: 'manual' as const } : undefined);
    const visits = days.map((day) =>
      wire('service-visit', `visit-${day}`, ZONE.startOf(FIRST_DATE + day) + 13 * 3_600_000, {
        technician: 'tech-4',
        findings: [],
        work: [],
      }),
    );
    expect(alertsOf({ days: 100, also })).toHaveLength(1);
    expect(alertsOf({ days: 100, also }, visits)).toEqual([]);
  });

  it('accuses nobody of days that went unreported, with or without their regenerations', () => {
    const events = play({ days: 140 });
    for (const withRegenerations of [true, false]) {
      for (let gap = 1; gap <= 45; gap += 4) {
        for (let from = 60; from < 66; from++) {
          const reported = events.filter(({ time, type }) => {
            const day = dayOf(new Date(Date.parse(time) - 1).toISOString());
            const isLost = withRegenerations || type.includes('flow-day');
            return !isLost || day < from || day >= from + gap;
          });
          expect(episodesOf('early-regeneration', reported), `${gap} days from ${from}`).toEqual([]);
        }
      }
    }
  });
});
