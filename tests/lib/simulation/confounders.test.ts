import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Chance } from '../../../lib/simulation/chance.ts';
import { drawConfounders } from '../../../lib/simulation/confounders.ts';
import { planFleet } from '../../../lib/simulation/plan.ts';
import { simulateUnit } from '../../../lib/simulation/simulate.ts';
import type { Truth } from '../../../lib/simulation/truth.ts';
import { movedTo, typicalGallons, type WaterUse } from '../../../lib/simulation/waterUse.ts';
import type { WireEvent } from '../../../shared/events.ts';
import { keysOf } from '../../../shared/records.ts';
import { parseLocalDate } from '../../../shared/time/localDate.ts';
import { forUnits, live, only } from './units.ts';

const START = parseLocalDate('2025-01-01') ?? 0;
const DAY = 86_400_000;
const UNITS = 15;
const SENSED = { senses: ['salt-level'], levelNoiseLb: 0, metric: false, reportsSettings: true } as const;

function told(truth: readonly Truth[], name: string) {
  return truth
    .filter(({ what, detail }) => what === 'confounder' && detail.confounder === name)
    .map(({ kind, cause, from, to }) => {
      expect({ kind, cause }).toEqual({ kind: null, cause: null });
      return { from: parseLocalDate(from), to: to === null ? null : parseLocalDate(to) };
    });
}

test('what is harmless comes as often as it is said to', () => {
  const homes = 4000;
  const drawn = Array.from({ length: homes }, (_, unit) => drawConfounders(365, new Chance(3, unit)));
  const counts = {
    sticks: drawn.filter(({ sticks }) => sticks).length,
    cleaned: drawn.filter(({ cleaned }) => cleaned).length,
    byHand: drawn.reduce((sum, { byHand }) => sum + byHand.size, 0),
    calendarDays: drawn.filter(({ calendarDays }) => calendarDays).length,
    batches: drawn.filter(({ batches }) => batches).length,
    moved: drawn.filter(({ moved }) => moved).length,
    missing: drawn.reduce((sum, { missing }) => sum + missing.size, 0),
    settingsLost: drawn.filter(({ settingsLost }) => settingsLost).length,
  };
  // A year, or the share of units: docs/decisions/0005-simulator.md.
  const said = {
    sticks: 0.1,
    cleaned: 0.05,
    byHand: 0.2,
    calendarDays: 0.15,
    batches: 0.03,
    moved: 0.02,
    missing: 1,
    settingsLost: 0.05,
  };
  for (const name of keysOf(said)) {
    const expected = homes * said[name];
    expect(Math.abs(counts[name] - expected), name).toBeLessThan(4 * Math.sqrt(expected));
  }
});

test('a sound unit stays sound whatever of it happens', () => {
  const everything = fc.integer({ min: 0, max: 0xffff_ffff }).map((seed) => {
    const [plan] = planFleet({ units: 1, days: 365, start: START, seed, faults: {}, outage: 'high-basin' });
    if (!plan) throw new Error('no plan');
    const { day, last } = { day: seed % 300, last: (seed % 300) + 20 };
    const confounders = {
      sticks: { first: day, last },
      cleaned: { day, gain: 0.05 + 0.1 * ((seed % 7) / 7) },
      byHand: new Set([day + 3, day + 30]),
      calendarDays: 14,
      batches: { days: 2 + (seed % 3), phase: 0.3 },
      moved: { day: day + 10, share: 0.8 },
      missing: new Set([day + 5, day + 40]),
      settingsLost: { day: day + 20, hour: 8, setAfterDays: seed % 6 },
    };
    return { ...plan, confounders };
  });
  fc.assert(
    fc.property(everything, (plan) => {
      const { truth, salt } = live(plan);
      const harmful = truth.filter(({ what }) => what === 'fault' || what === 'regeneration-without-salt');
      expect(harmful).toEqual([]);
      const causes = ['reserve-short', 'meter-fault', 'capacity-setting'];
      for (const { what, cause } of truth) if (what === 'overrun') expect(causes).toContain(cause);
      expect(salt.startLb + salt.addedLb - salt.drawnLb).toBeCloseTo(salt.endLb);
      expect(salt.drawnLb / plan.profile.saltDoseLb).toBeCloseTo(
        Math.round(salt.drawnLb / plan.profile.saltDoseLb),
      );
    }),
    { numRuns: UNITS },
  );
});

describe('on the wire', () => {
  test('a meter registers less before it is cleaned than after, peaks too', () => {
    const peaks = { before: 0, after: 0 };
    forUnits(
      { change: { metric: false, senses: ['peak-flow'] }, confounders: { cleaned: { day: 150, gain: 0.1 } } },
      (plan) => {
        const { flowDays, visits, truth } = live(plan);
        for (const { date, gallons, peakGpm = 0 } of flowDays) {
          const drawn = plan.use.gallons[date - plan.start] ?? 0;
          if (drawn > 10 && date < START + 150) peaks.before += peakGpm / plan.profile.peakGpm / 150;
          if (drawn > 10 && date > START + 150) peaks.after += peakGpm / plan.profile.peakGpm / 214;
          const expected = date < START + 150 ? drawn / 1.1 : drawn;
          if (date !== START + 150) expect(Math.abs(gallons - expected)).toBeLessThan(0.1);
        }
        expect(visits.map(({ work }) => work.join())).toContain('meter cleaned');
        expect(told(truth, 'meter-cleaned')).toEqual([{ from: START + 150, to: null }]);
      },
      UNITS,
    );
    // Of days that vary by a sixth there are two thousand and more on either side; absences are alike.
    expect(Math.abs(peaks.after / peaks.before / 1.1 - 1)).toBeLessThan(0.06);
  });

  test('nothing of a missing day ever arrives, and everything of the others', () => {
    const missing = new Set([100, 200]);
    forUnits(
      { confounders: { missing } },
      (plan) => {
        const { facts, flowDays, truth } = live(plan);
        const byPeople = ['service-visit', 'away', 'at-home', 'flow-day'];
        const dates = new Set(
          facts
            .filter(({ kind }) => !byPeople.includes(kind))
            .map(({ time }) => plan.profile.zone.dateAt(time) - START),
        );
        for (const day of missing) expect(dates.has(day)).toBe(false);
        expect(flowDays.map(({ date }) => date - START)).toEqual(
          [...plan.use.gallons.keys()].filter((day) => !missing.has(day)),
        );
        expect(told(truth, 'day-missing')).toEqual(
          [...missing].map((day) => ({ from: START + day, to: START + day })),
        );
      },
      UNITS,
    );
  });

  test('a level sensor that sticks repeats one reading', () => {
    const sticks = { first: 100, last: 125 };
    forUnits(
      { change: SENSED, confounders: { sticks } },
      (plan) => {
        const { levels, truth } = live(plan);
        const within = levels.filter(({ time }) => {
          const day = plan.profile.zone.dateAt(time) - START;
          return day >= sticks.first && day <= sticks.last;
        });
        expect(within).toHaveLength(26);
        expect(new Set(within.map(({ lb }) => lb)).size).toBe(1);
        expect(new Set(levels.map(({ lb }) => lb)).size).toBeGreaterThan(1);
        expect(told(truth, 'level-sensor-sticks')).toEqual([{ from: START + 100, to: START + 125 }]);
      },
      UNITS,
    );
  });

  test('settings that are lost are those of the maker until they are set again', () => {
    let astray = 0;
    for (const setAfterDays of [0, 5]) {
      const settingsLost = { day: 100, hour: 8, setAfterDays };
      forUnits(
        { change: { ...SENSED, followsSummerTime: true }, confounders: { settingsLost } },
        (plan) => {
          const { settings, powerFailures, regenerations, truth } = live(plan);
          const { zone, programmed, alternating, startsLateMinutes } = plan.profile;
          expect(powerFailures.filter(({ settingsKept }) => !settingsKept)).toHaveLength(1);
          const last = START + 100 + setAfterDays;
          expect(told(truth, 'settings-lost')).toEqual([{ from: START + 100, to: last }]);
          const again = settings.find(({ time }) => zone.dateAt(time) >= last && zone.hourAt(time) < 19);
          expect(again && zone.dateAt(again.time)).toBe(last);
          // Its clock says noon when power is back at eight: the maker's two o'clock comes at ten in the evening.
          for (const { date, time } of regenerations) {
            if (alternating || date <= START + 100 || date >= last) continue;
            astray += 1;
            expect(zone.hourAt(time)).toBeCloseTo(22 + startsLateMinutes / 60);
          }
          for (const told of settings.filter(({ time }) => zone.dateAt(time) > last)) {
            expect(told.hardnessGpg).toBe(programmed.hardnessGpg);
            expect(Math.abs((told.clockMinutes ?? 0) / 60 - zone.hourAt(told.time))).toBeLessThan(0.02);
          }
        },
        UNITS,
      );
    }
    expect(astray).toBeGreaterThan(0);
  });

  test('a calendar limit regenerates after so many days without, and only then', () => {
    const calendarDays = 14;
    let overrides = 0;
    forUnits({ confounders: { calendarDays } }, (plan) => {
      const { regenerations, truth } = live(plan);
      regenerations.forEach(({ date, trigger }, i) => {
        const days = date - (regenerations[i - 1]?.date ?? START);
        expect(days).toBeLessThanOrEqual(calendarDays);
        if (trigger !== 'override') return;
        overrides += 1;
        expect(days).toBe(calendarDays);
      });
      const first = regenerations.find(({ trigger }) => trigger === 'override');
      expect(told(truth, 'calendar-limit')).toEqual(first ? [{ from: first.date, to: null }] : []);
    });
    expect(overrides).toBeGreaterThan(0);
  });

  test('a regeneration by hand is one', () => {
    forUnits(
      { confounders: { byHand: new Set([50, 200]) } },
      (plan) => {
        const { regenerations, truth } = live(plan);
        const byHand = regenerations.filter(({ trigger }) => trigger === 'manual');
        expect(byHand.map(({ date }) => date - START)).toEqual([50, 200]);
        expect(told(truth, 'regeneration-by-hand').map(({ from }) => from)).toEqual([
          START + 50,
          START + 200,
        ]);
      },
      UNITS,
    );
  });

  test('salt that is put in while it is not drawn lifts the level and mends nothing', () => {
    let seen = 0;
    forUnits({ change: SENSED, faults: only('salt-bridged') }, (plan) => {
      const { levels, regenerations, truth } = live(plan);
      const { zone } = plan.profile;
      const levelOn = (date: number) => levels.find(({ time }) => zone.dateAt(time) === date)?.lb;
      const fault = truth.find(({ what }) => what === 'fault');
      const to = parseLocalDate(fault?.to ?? '') ?? Infinity;
      for (const { from } of told(truth, 'salt-in-vain')) {
        if (from === undefined) throw new Error('no date');
        const before = levelOn(from);
        const after = levelOn(from + 1);
        if (before === undefined || after === undefined || from + 1 >= to) continue;
        seen += 1;
        expect([40, 80]).toContain(after - before);
        const between = (date = 0) => date > from && date < to;
        const short = truth.filter(
          (each) => each.what === 'regeneration-without-salt' && between(parseLocalDate(each.from)),
        );
        expect(short).toHaveLength(regenerations.filter(({ date }) => between(date)).length);
      }
    });
    expect(seen).toBeGreaterThan(0);
  });
});

describe('what comes late', () => {
  test('a gateway delivers days together, and nothing is lost', () => {
    const batches = { days: 3, phase: 0.4 };
    forUnits(
      { confounders: { batches } },
      (plan) => {
        const { facts, events } = live(plan);
        const byUnit = facts.filter(({ kind }) => !['service-visit', 'away', 'at-home'].includes(kind));
        for (const { known, time, kind } of byUnit) {
          expect((known / 1000 - Math.round(0.4 * 3 * 86_400)) % (3 * 86_400)).toBe(0);
          // A regeneration is told when it is over.
          expect(known - time).toBeGreaterThan(kind === 'power' ? -DAY : 0);
          expect(known - time).toBeLessThan(3 * DAY + 8 * 3_600_000);
        }
        const prompt = simulateUnit({ ...plan, confounders: { ...plan.confounders, batches: undefined } });
        expect(events.map(butArrival)).toEqual(prompt.events.map(butArrival));
      },
      UNITS,
    );
  });

  test('while the carrier of a region is down nothing of it arrives, and all of it after', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 0xffff_ffff }), (seed) => {
        const options = { units: 8, days: 60, start: START, seed, faults: {} };
        const sound = planFleet(options);
        const plans = planFleet({ ...options, outage: 'alder-county' });
        plans.forEach((plan, i) => {
          const without = sound[i];
          if (!without) throw new Error('no plan');
          if (plan.profile.region !== 'alder-county') {
            expect(plan).toEqual(without);
            return;
          }
          const { facts, events, truth } = live(plan);
          const { outage } = plan;
          if (!outage) throw new Error('no outage');
          expect(outage.last - outage.first).toBeGreaterThanOrEqual(1);
          expect(outage.last - outage.first).toBeLessThanOrEqual(4);
          expect(told(truth, 'outage')).toEqual([{ from: START + outage.first, to: START + outage.last }]);
          const down = plan.profile.zone.startOf(START + outage.first);
          const up = plan.profile.zone.startOf(START + outage.last + 1);
          const arriving = facts.filter(({ kind }) => !['service-visit', 'away', 'at-home'].includes(kind));
          expect(arriving.filter(({ known }) => known >= down && known < up)).toEqual([]);
          expect(events.map(butArrival)).toEqual(simulateUnit(without).events.map(butArrival));
        });
      }),
      { numRuns: 6 },
    );
  });

  test('the carrier of a region that is none cannot be down', () => {
    expect(() =>
      planFleet({ units: 1, days: 60, start: START, seed: 1, faults: {}, outage: 'nowhere' }),
    ).toThrow(expect.objectContaining({ code: 'region-unknown' }));
  });
});

test('a unit that is moved has the use of its first home, then that of the second at the share asked for', () => {
  const use = (gallons: number[]): WaterUse => ({ gallons, unreported: new Set([2]), absences: [] });
  const series = fc.array(fc.double({ min: 1, max: 400, noNaN: true }), { minLength: 30, maxLength: 30 });
  fc.assert(
    fc.property(
      series,
      series,
      fc.integer({ min: 0, max: 29 }),
      fc.double({ min: 0.6, max: 1.4, noNaN: true }),
      (one, other, day, share) => {
        const first = use(one);
        const moved = movedTo(first, use(other), { day, share });
        expect(moved.gallons.slice(0, day)).toEqual(one.slice(0, day));
        const whole = movedTo(first, use(other), { day: 0, share });
        expect(moved.gallons.slice(day)).toEqual(whole.gallons.slice(day));
        expect(typicalGallons(whole)).toBeCloseTo(share * typicalGallons(first), 6);
      },
    ),
  );
});

/** An event but for when it was received. */
function butArrival({ recordedtime, ...event }: WireEvent) {
  expect(recordedtime).toBeDefined();
  return event;
}
