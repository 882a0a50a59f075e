import { describe, expect, test } from 'vitest';
import { FAULT_NAMES, type FAULTS, faultNamed } from '../../../lib/simulation/faults.ts';
import type { UnitPlan } from '../../../lib/simulation/plan.ts';
import type { Truth } from '../../../lib/simulation/truth.ts';
import { brineGallonsForDose } from '../../../lib/softening/brine.ts';
import { bedCapacityGrains } from '../../../lib/softening/capacity.ts';
import { compensatedHardnessGpg } from '../../../lib/softening/iron.ts';
import { type AlertCause, CAUSES } from '../../../shared/alerts.ts';
import { parseLocalDate } from '../../../shared/time/localDate.ts';
import { forUnits, live, only, UNITS_CHECKED } from './units.ts';

/** Everything is sensed and nothing is blurred, so that the condition itself can be read. */
const LAID_BARE = {
  senses: ['salt-level', 'brine-draw', 'peak-flow'],
  levelNoiseLb: 0,
  brineNoise: 0,
  reportsSettings: true,
  metric: false,
} as const satisfies Partial<UnitPlan['profile']>;

/** A unit with a fault, and what happened while it lasted: from the day after it began to the day before its end. */
function suffer(plan: UnitPlan) {
  const unit = live(plan);
  const fault = unit.truth.find(({ what }) => what === 'fault');
  const from = dateOf(fault?.from) ?? Infinity;
  const to = dateOf(fault?.to) ?? Infinity;
  const during = <Item extends { date: number }>(items: Item[]) =>
    items.filter(({ date }) => date > from && date < to);
  return {
    ...unit,
    fault,
    from,
    to,
    regenerationsDuring: during(unit.regenerations),
    flowDuring: during(unit.flowDays),
    overruns: unit.truth.filter(({ what, cause }) => what === 'overrun' && cause !== 'reserve-short'),
  };
}

function dateOf(text: string | null | undefined): number | undefined {
  return parseLocalDate(text ?? '');
}

function percents(overruns: readonly Truth[]): number[] {
  return overruns.map(({ detail }) => Number(detail.percent));
}

/** Grains that the household draws between two dates, the first included, over the bed's capacity. */
function bedsDrawn({ use, profile, start }: UnitPlan, from: number, to: number): number {
  const gallons = use.gallons.slice(from - start, Math.min(to - start, use.gallons.length));
  const grains = gallons.reduce((sum, each) => sum + each, 0) * compensatedHardnessGpg(profile);
  return grains / (profile.bedFactor * bedCapacityGrains(profile));
}

describe.each(FAULT_NAMES)('%s', (name) => {
  test('is told once, under a name of the contract, after some sound weeks', () => {
    let shown = 0;
    forUnits({ faults: only(name) }, (plan) => {
      const { truth, fault, from } = suffer(plan);
      expect(truth.filter(({ what }) => what === 'fault').length).toBeLessThanOrEqual(1);
      if (!fault?.kind) return;
      for (const { kind, cause } of [fault, ...faultNamed(name).also]) {
        const causes: readonly (AlertCause | null)[] = kind ? CAUSES[kind] : [];
        expect(causes.length > 0 ? causes : [null]).toContain(cause);
      }
      // A tank runs dry as its household draws water, which may be more than it used to.
      expect(from - plan.start).toBeGreaterThanOrEqual(name === 'tank-empty' ? 20 : 60);
      if (fault.detail.shownOn !== null) shown += 1;
    });
    expect(shown).toBeGreaterThanOrEqual(0.9 * UNITS_CHECKED);
  });

  test('is over once it is mended', () => {
    forUnits({ change: LAID_BARE, faults: only(name) }, (plan) => {
      const { to, regenerations, flowDays, truth } = suffer(plan);
      const harmless = ['absence', 'salt-low', 'confounder'];
      const after = truth.filter((each) => (dateOf(each.from) ?? 0) > to && !harmless.includes(each.what));
      expect(after.filter(({ cause }) => cause !== 'reserve-short')).toEqual([]);
      const tested = regenerations.filter(({ date }) => date > to);
      for (const { saltBeforeLb, saltAfterLb } of tested) {
        expect(
          Math.abs((saltBeforeLb ?? 0) - (saltAfterLb ?? 0) - plan.profile.saltDoseLb),
        ).toBeLessThanOrEqual(1);
      }
      for (const { date, gallons } of flowDays.filter((day) => day.date > to)) {
        expect(Math.abs(gallons - (plan.use.gallons[date - plan.start] ?? 0))).toBeLessThan(0.1);
      }
    });
  });
});

describe('what the faults do', () => {
  const each = (
    name: keyof typeof FAULTS,
    check: (suffered: ReturnType<typeof suffer>, plan: UnitPlan) => void,
  ) => forUnits({ change: LAID_BARE, faults: only(name) }, (plan) => check(suffer(plan), plan));

  test('a stalled meter counts nothing, so the control never regenerates and the bed runs over', () => {
    each('meter-stalled', ({ flowDuring, regenerationsDuring, overruns, from, to }, plan) => {
      for (const day of flowDuring) {
        expect(day).toMatchObject({ gallons: 0, peakGpm: 0, flowHours: 0, longestFlowMinutes: 0 });
      }
      expect(regenerationsDuring).toEqual([]);
      // On its first day the control may still act on what it counted before.
      const beds = bedsDrawn(plan, from + 1, to);
      if (beds > 1) expect(Math.max(...percents(overruns))).toBeGreaterThan(100 * (beds - 1) - 1);
    });
  });

  test('an empty tank gives its usual volume of water without the salt', () => {
    each('tank-empty', ({ regenerationsDuring, truth, from }, plan) => {
      const short = truth.filter(({ what }) => what === 'regeneration-without-salt');
      expect(dateOf(short[0]?.from) ?? Infinity).toBe(from);
      for (const { saltBeforeLb, saltAfterLb, brineGallons } of regenerationsDuring) {
        expect(saltBeforeLb).toBe(0);
        expect(saltAfterLb).toBe(0);
        expect(brineGallons).toBeCloseTo(brineGallonsForDose(plan.profile.saltDoseLb), 1);
      }
    });
  });

  test('a bridge lets the usual volume through, keeps the level and gives no salt', () => {
    each('salt-bridged', ({ regenerationsDuring }, plan) => {
      for (const { saltBeforeLb, saltAfterLb, brineGallons } of regenerationsDuring) {
        expect(saltAfterLb).toBe(saltBeforeLb);
        expect(brineGallons).toBeCloseTo(brineGallonsForDose(plan.profile.saltDoseLb), 1);
      }
    });
  });

  test('where no brine is drawn, neither volume nor level moves', () => {
    each('brine-not-drawn', ({ regenerationsDuring }, plan) => {
      for (const { saltBeforeLb, saltAfterLb, brineGallons } of regenerationsDuring) {
        expect(saltAfterLb).toBe(saltBeforeLb);
        expect(brineGallons ?? Infinity).toBeLessThan(0.1 * brineGallonsForDose(plan.profile.saltDoseLb));
      }
    });
  });

  test.each(['tank-empty', 'salt-bridged', 'brine-not-drawn'] as const)(
    '%s lets the bed run over',
    (name) => {
      each(name, ({ regenerationsDuring, overruns, to }, plan) => {
        const [first] = regenerationsDuring;
        if (!first || plan.profile.alternating) return;
        const beds = bedsDrawn(plan, first.date + 1, to);
        if (beds > 1) expect(Math.max(...percents(overruns))).toBeGreaterThan(100 * (beds - 1) - 1);
      });
    },
  );

  test.each([
    { name: 'capacity-setting', low: 1.2, high: 1.65 },
    // 1 / 0.75 to 1 / 0.55; hardness is programmed in whole grains.
    { name: 'hardness-understated', low: 1.25, high: 2 },
  ] as const)(
    '$name makes the control believe in too much, and overruns of 15 % follow',
    ({ name, low, high }) => {
      let cases = 0;
      let over = 0;
      each(name, ({ settings, overruns, from, to, regenerationsDuring }, plan) => {
        const { programmed, zone } = plan.profile;
        for (const told of settings.filter(
          ({ time }) => zone.dateAt(time) > from && zone.dateAt(time) < to,
        )) {
          const factor =
            told.capacityGrains / told.hardnessGpg / (programmed.capacityGrains / programmed.hardnessGpg);
          expect(factor).toBeGreaterThan(low);
          expect(factor).toBeLessThan(high);
        }
        if (regenerationsDuring.length < 3) return;
        cases += 1;
        if (Math.max(...percents(overruns)) >= 15) over += 1;
      });
      expect(over).toBeGreaterThanOrEqual(0.95 * cases);
      expect(cases).toBeGreaterThan(10);
    },
  );

  test('a control that is out of service or has a broken drive lets its hour pass', () => {
    each('regeneration-missed', ({ regenerationsDuring, overruns, from, to, fault, settings }, plan) => {
      expect(regenerationsDuring).toEqual([]);
      const beds = bedsDrawn(plan, from + 1, to);
      if (beds > 1) expect(Math.max(...percents(overruns))).toBeGreaterThan(100 * (beds - 1) - 1);
      const modes = settings
        .filter(({ time }) => plan.profile.zone.dateAt(time) > from && plan.profile.zone.dateAt(time) < to)
        .map(({ mode }) => mode);
      const expected = fault?.cause === 'not-in-service' ? 'setup' : 'service';
      expect(modes).toEqual(modes.map(() => expected));
    });
  });

  test('an obstructed meter comes to register 30 to 75 % of what flows, lower peaks, and nearly as many hours', () => {
    each('meter-obstructed', ({ flowDays, flowDuring, from }, plan) => {
      const obstructed = flowDuring.filter(({ date }) => date > from + 20);
      const sound = flowDays.filter(({ date }) => date < from);
      const mean = (days: typeof sound, of: (day: (typeof sound)[number]) => number) =>
        days.reduce((sum, day) => sum + of(day), 0) / days.length;
      const hours = (days: typeof sound) =>
        mean(
          days.filter(({ gallons }) => gallons > 30),
          ({ flowHours = 0 }) => flowHours,
        );
      const volume = (days: typeof sound) =>
        mean(days, ({ gallons }) => gallons) /
        mean(days, ({ date }) => plan.use.gallons[date - plan.start] ?? 0);
      if (obstructed.filter(({ gallons }) => gallons > 30).length > 20) {
        expect(hours(obstructed) / hours(sound)).toBeGreaterThan(volume(obstructed));
      }
      for (const { date, gallons, peakGpm } of obstructed) {
        const drawn = plan.use.gallons[date - plan.start] ?? 0;
        if (drawn < 10) continue;
        expect(gallons / drawn).toBeGreaterThan(0.29);
        expect(gallons / drawn).toBeLessThan(0.76);
        expect(peakGpm).toBeLessThan(1.2 * 0.76 * plan.profile.peakGpm);
      }
    });
  });

  test('a leak begins and is mended at an hour of the day', () => {
    let mended = 0;
    each('leak', ({ flowDays, from, to, fault }, plan) => {
      const begins = flowDays.find(({ date }) => date === from);
      const hour = plan.fault?.begins.hour ?? 0;
      expect(begins?.longestFlowMinutes).toBeGreaterThanOrEqual(60 * (24 - hour));
      expect(begins?.longestFlowMinutes).toBeLessThan(60 * 23);
      expect(dateOf(String(fault?.detail.shownOn))).toBe(from + 1);
      const ends = flowDays.find(({ date }) => date === to);
      if (!ends) return;
      mended += 1;
      // The technician comes at one o'clock.
      expect(ends.longestFlowMinutes).toBeGreaterThanOrEqual(60 * 13);
      expect(ends.longestFlowMinutes).toBeLessThan(60 * 23);
    });
    expect(mended).toBeGreaterThan(0);
  });

  test('a leak flows through every whole day of it, whatever the clocks do', () => {
    let lengths = new Set<number>();
    each('leak', ({ flowDuring }, plan) => {
      const { zone } = plan.profile;
      for (const { date, gallons, longestFlowMinutes, flowHours } of flowDuring) {
        const minutes = (zone.startOf(date + 1) - zone.startOf(date)) / 60_000;
        lengths = lengths.add(minutes);
        expect({ longestFlowMinutes, flowHours }).toEqual({
          longestFlowMinutes: minutes,
          flowHours: minutes / 60,
        });
        const gpm = (gallons - (plan.use.gallons[date - plan.start] ?? 0)) / minutes;
        expect(gpm).toBeCloseTo(0.1 * 15 ** (plan.fault?.strength ?? 0), 3);
        expect(gpm).toBeGreaterThan(0.099);
        expect(gpm).toBeLessThan(1.501);
      }
    });
    expect(lengths.size).toBeGreaterThan(1);
  });

  test('a silent unit sends nothing until it is mended, and regenerates all the same', () => {
    each('silent', ({ facts, flowDays, visits, fault, salt, from, to, regenerations }, plan) => {
      expect(dateOf(String(fault?.detail.shownOn))).toBe(from);
      const begins = plan.profile.zone.startOf(from);
      const mended = visits.find(({ work }) => work.includes('transmitter replaced'))?.time ?? Infinity;
      const said = ['service-visit', 'away', 'at-home', 'flow-day'];
      expect(
        facts.filter(({ kind, time }) => !said.includes(kind) && time > begins && time < mended),
      ).toEqual([]);
      expect(flowDays.filter(({ date }) => date >= from && date < to)).toEqual([]);
      const beds = bedsDrawn(plan, from + 1, to);
      if (beds > 2) expect(salt.drawnLb).toBeGreaterThan(regenerations.length * plan.profile.saltDoseLb);
    });
  });

  test('a wrong clock has it regenerate at a wrong hour, and is what the settings tell', () => {
    for (const name of ['clock-twelve-hours', 'clock-drift'] as const) {
      each(name, ({ regenerationsDuring, settings, powerFailures, from, to }, plan) => {
        const { zone, programmed, alternating, followsSummerTime } = plan.profile;
        const off = (hours: number) => ((((hours + 12) % 24) + 24) % 24) - 12;
        const summer = followsSummerTime ? 0.3 : 1.3;
        const least = (age: number) => (name === 'clock-twelve-hours' ? 12 : age > 61 ? 2 : 0) - summer;
        for (const { time, date, trigger } of regenerationsDuring) {
          if (alternating || trigger !== 'metered') continue;
          const hours = Math.abs(off(zone.hourAt(time) - programmed.regenerationHour));
          expect(hours).toBeGreaterThanOrEqual(least(date - from));
        }
        const told = powerFailures.filter(({ restoredAt }) => zone.dateAt(restoredAt) === from);
        if (plan.fault && plan.fault.strength < 0.5) expect(told.length).toBeGreaterThanOrEqual(1);
        for (const { time, clockMinutes = 0 } of settings) {
          const date = zone.dateAt(time);
          if (date <= from || date >= to) continue;
          expect(Math.abs(off(clockMinutes / 60 - zone.hourAt(time)))).toBeGreaterThanOrEqual(
            least(date - from),
          );
        }
      });
    }
  });

  test('a drive that fails takes its time, or starts over again and again', () => {
    const shares: number[] = [];
    each('regeneration-long', ({ regenerationsDuring }, plan) => {
      const ratios = regenerationsDuring.map(
        ({ durationMinutes = 0 }) => durationMinutes / plan.profile.regenerationMinutes,
      );
      const long = ratios.filter((ratio) => ratio > 1.5);
      expect(Math.max(0, ...ratios)).toBeLessThan(4.3);
      if (ratios.length < 12) return;
      expect(long.length).toBeGreaterThan(ratios.length / 8);
      shares.push(long.length / ratios.length);
    });
    // Some drives fail every time, some one time in two.
    expect(shares.filter((share) => share === 1).length).toBeGreaterThan(0);
    expect(shares.filter((share) => share < 0.9).length).toBeGreaterThan(0);
    each('regeneration-by-hand', ({ regenerationsDuring, from, to }, plan) => {
      const days = Math.min(to, plan.start + plan.days) - from - 1;
      const byHand = regenerationsDuring.filter(({ trigger }) => trigger === 'manual');
      // Every day to every second day, and four standard deviations of a coin tossed daily.
      expect(byHand.length).toBeGreaterThan(days / 2 - 2 * Math.sqrt(days) - 1);
    });
    each('regeneration-repeated', ({ regenerationsDuring, from, to }, plan) => {
      const days = Math.min(to, plan.start + plan.days) - from - 1;
      expect(regenerationsDuring.length).toBeGreaterThanOrEqual(Math.floor(days / 2));
    });
  });

  test('a capacity too low or a hardness too high has it regenerate early', () => {
    for (const name of ['capacity-too-low', 'hardness-overstated'] as const) {
      each(name, ({ settings, from, to }, { profile: { programmed, zone } }) => {
        for (const told of settings.filter(
          ({ time }) => zone.dateAt(time) > from && zone.dateAt(time) < to,
        )) {
          const factor =
            told.capacityGrains / told.hardnessGpg / (programmed.capacityGrains / programmed.hardnessGpg);
          expect(factor).toBeGreaterThan(0.48);
          expect(factor).toBeLessThan(0.84);
        }
      });
    }
  });

  test('a meter that dwindles before it stalls registers a falling share', () => {
    let dwindling = 0;
    each('meter-stalled', ({ fault, flowDays, from }, plan) => {
      const since = dateOf(String(fault?.detail.dwindlingFrom));
      if (since === undefined) return;
      dwindling += 1;
      const shares = flowDays
        .filter(({ date }) => date >= since && date < from)
        .flatMap(({ date, gallons }) => {
          const drawn = plan.use.gallons[date - plan.start] ?? 0;
          // A trickle is lost in rounding.
          return drawn > 10 ? [gallons / drawn] : [];
        });
      expect(shares.every((share, i) => share < (shares[i - 1] ?? 1))).toBe(true);
    });
    expect(dwindling).toBeGreaterThan(0);
  });
});
