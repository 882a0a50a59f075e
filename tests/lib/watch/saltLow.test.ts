import { describe, expect, it } from 'vitest';
import { Chance } from '../../../lib/simulation/chance.ts';
import { UnitHistory } from '../../../lib/unit/history.ts';
import { rulesSchema } from '../../../lib/watch/rules.ts';
import { saltLow } from '../../../lib/watch/saltLow.ts';
import { admit } from '../../../shared/admission.ts';
import { parseLocalDate } from '../../../shared/time/localDate.ts';
import { episodesOf } from '../../support/episodesOf.ts';
import { type Wire, wire, zoneOf } from '../../support/events.ts';
import { registryOf, unitRecord } from '../../support/fleet.ts';
import { FIRST_DATE, play } from '../../support/household.ts';

const zone = zoneOf('America/New_York');
const HOUR = 3_600_000;
const DOSE_LB = 6;

interface Tank {
  days: number;
  startLb: number;
  /** Salt that is put in at ten on a day, lb. */
  refills?: Readonly<Record<number, number>>;
  /** A household that puts in a bag of 40 lb whenever there is less than this, until a day. */
  habit?: { belowLb: number; until: number };
  gallons?: (day: number) => number;
  /** Standard deviation of a reading, lb; readings are whole pounds. */
  noiseLb?: number;
  /** What the sensor shows instead on a day. */
  shows?: (day: number, truly: number) => number;
}

/** A household with a little life in it, about 160 gallons a day: a regeneration every five days or so, 1.2 lb of salt a day. */
const lively = (day: number) => 160 + 40 * Math.sin(day * 1.7) + 30 * Math.cos(day * 0.9);

/** What a unit sends of a tank, and the day on which a regeneration first lacks salt. */
function story({ days, startLb, refills = {}, habit, gallons = lively, noiseLb = 2, shows }: Tank) {
  const chance = new Chance(1, 2);
  const events: Wire[] = [];
  let lb = startLb;
  let shortOn: number | null = null;
  const level = (day: number, truly = lb) => shows?.(day, truly) ?? Math.round(chance.normal(truly, noiseLb));
  const mass = (value: number) => ({ value, unit: '[lb_av]' });
  let day = -1;
  for (const event of play({ days, gallons })) {
    const nights = zone.dateAt(Date.parse(event.time)) - FIRST_DATE;
    for (; day < nights; day++) {
      if (day < 0) continue;
      const morning = zone.startOf(FIRST_DATE + day) + 6 * HOUR;
      events.push(wire('salt-level', `level-${day}`, morning, { mass: mass(level(day)) }, morning + 60_000));
      lb += refills[day] ?? 0;
      if (habit && day < habit.until && lb < habit.belowLb) lb += 40;
    }
    if (event.type.includes('regeneration')) {
      if (lb < DOSE_LB) shortOn ??= nights;
      const before = level(nights);
      const drawn = Math.min(lb, DOSE_LB);
      const after = level(nights, lb - drawn);
      lb -= drawn;
      const data = { ...event.data, saltBefore: mass(before), saltAfter: mass(after) };
      events.push({ ...event, data });
    } else events.push(event);
  }
  return { events, shortOn };
}

function alertsOf(tank: Tank) {
  return episodesOf('salt-low', story(tank).events);
}

function dayOf(instant: string | null | undefined): number {
  return zone.dateAt(Date.parse(instant ?? '')) - FIRST_DATE;
}

describe('salt-low', () => {
  // 100 lb last for some 85 days.
  const falling: Tank = { days: 100, startLb: 100 };

  it('is told once about three weeks before a regeneration lacks salt, is pressing in the last days', () => {
    const { events, shortOn } = story(falling);
    const [alert, ...others] = episodesOf('salt-low', events);
    expect(others).toEqual([]);
    expect(alert).toMatchObject({ kind: 'salt-low', cause: null, clearedAt: null });
    const lead = (shortOn ?? 0) - dayOf(alert?.raisedAt);
    expect(lead).toBeGreaterThanOrEqual(15);
    expect(lead).toBeLessThanOrEqual(23);
    expect(alert?.history[0]?.severity).toBe('routine');
    const pressing = alert?.history.find(({ severity }) => severity === 'soon');
    expect((shortOn ?? 0) - dayOf(pressing?.at)).toBeGreaterThanOrEqual(2);
    expect((shortOn ?? 0) - dayOf(pressing?.at)).toBeLessThanOrEqual(7);
  });

  it('ends with a refill, though not with one odd reading, and lasts while the tank is empty', () => {
    const lasts = { ...falling, days: 130 };
    expect(alertsOf(lasts).map(({ clearedAt }) => clearedAt)).toEqual([null]);
    const [alert, ...others] = alertsOf({ ...lasts, refills: { 84: 40, 86: 40 } });
    expect(others).toEqual([]);
    // The first reading after it may be an odd one; the second bears it out.
    expect(dayOf(alert?.clearedAt)).toBe(86);
    const wild: Readonly<Record<number, number>> = { 40: 2, 90: 150 };
    const [odd, ...more] = alertsOf({ ...lasts, shows: (day, lb) => wild[day] ?? Math.round(lb) });
    expect(more).toEqual([]);
    expect(odd?.clearedAt).toBeNull();
    expect(dayOf(odd?.raisedAt)).toBeGreaterThan(70);
  });

  it('does not flicker, whatever the sensor’s noise', () => {
    for (const noiseLb of [0.3, 1, 2, 3]) {
      const refills = { 75: 80, 150: 80, 225: 80, 300: 80 };
      const alerts = alertsOf({ days: 330, startLb: 100, noiseLb, refills });
      expect(alerts.length).toBeLessThanOrEqual(4);
      for (const [index, { clearedAt }] of alerts.slice(0, -1).entries())
        expect(dayOf(clearedAt)).toBeLessThan(dayOf(alerts[index + 1]?.raisedAt) - 20);
    }
  });

  it('leaves a household in peace that has always refilled so late, until it is past that', () => {
    // With some two weeks of salt left, again and again, until it forgets.
    const { events, shortOn } = story({ days: 280, startLb: 50, habit: { belowLb: 16, until: 230 } });
    const alerts = episodesOf('salt-low', events);
    const raised = alerts.map(({ raisedAt }) => dayOf(raisedAt));
    // Three refills make a habit: about one in 37 days.
    expect(raised.filter((day) => day > 120 && day < 230)).toEqual([]);
    expect(raised.filter((day) => day < 120)).not.toEqual([]);
    const last = alerts.at(-1);
    expect(last?.clearedAt).toBeNull();
    expect((shortOn ?? 0) - dayOf(last?.raisedAt)).toBeGreaterThanOrEqual(5);
    expect((shortOn ?? 0) - dayOf(last?.raisedAt)).toBeLessThanOrEqual(13);
    expect(last?.evidence.refillsSeen).toBeGreaterThanOrEqual(5);
  });

  it('cannot tell where the sensor sticks, and says so of what it has told', () => {
    const stuckHigh = alertsOf({ ...falling, shows: (day, lb) => (day < 40 ? Math.round(lb) : 55) });
    expect(stuckHigh).toEqual([]);
    const [alert] = alertsOf({ ...falling, shows: (day, lb) => (day < 75 ? Math.round(lb) : 14) });
    expect(alert?.summary).toContain('sticks at 14 lb');
    expect(alert?.evidence.sensorSticks).toBe(true);
  });

  it('says nothing of a tank that nobody reads', () => {
    expect(episodesOf('salt-low', play({ days: 200, gallons: lively }))).toEqual([]);
  });

  it('forecasts the day as drawing the days one by one does', () => {
    const { events } = story({ days: 75, startLb: 100 });
    const { units } = registryOf(unitRecord());
    const [unit] = units.values();
    if (!unit) throw new Error('no unit');
    const rules = rulesSchema.parse({});
    const history = new UnitHistory(unit, rules.fold);
    for (const event of events) {
      const admission = admit(JSON.stringify(event), units);
      if (admission.accepted) history.learn(admission.fact);
    }
    const { state } = history;
    const { saltUse } = state.memories;
    const evidence = saltLow.look(unit, state, rules['salt-low'], 0, true)?.evidence();
    const { household, draw } = state;
    const chance = new Chance(3, 4);
    const days = Array.from({ length: 4000 }, () => {
      // The level is not known exactly, nor is the salt; a day is a gamma about its weekday's mean.
      const level = household.level * Math.max(0.2, chance.normal(1, Math.sqrt(household.levelVariance)));
      let lb = chance.normal(saltUse.lb ?? 0, Math.sqrt(saltUse.variance));
      const cycle = saltUse.cycleGallons * chance.normal(1, 0.1);
      let left = cycle - saltUse.gallons;
      for (let day = 1; ; day++) {
        left -= chance.gamma(level, Math.sqrt(household.spread));
        while (left <= 0) {
          if (lb < draw.usualSaltLb) return day;
          lb -= draw.usualSaltLb;
          left += cycle;
        }
      }
    }).sort((a, b) => a - b);
    for (const [p, quantile] of [
      [0.1, 'daysLeftP10'],
      [0.5, 'daysLeftP50'],
      [0.9, 'daysLeftP90'],
    ] as const)
      expect(Math.abs(Number(evidence?.[quantile]) - (days[4000 * p] ?? 0))).toBeLessThanOrEqual(2);
    expect(parseLocalDate(String(evidence?.runsOutOn))).toBe(
      (state.lastDate ?? 0) + Number(evidence?.daysLeftP50),
    );
  });
});
