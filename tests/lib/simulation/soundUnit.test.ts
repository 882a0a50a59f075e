import { describe, expect, test } from 'vitest';
import { shareBefore } from '../../../lib/demand/dayShare.ts';
import { instantAt, winterInstantAt } from '../../../lib/simulation/localTime.ts';
import type { UnitPlan } from '../../../lib/simulation/plan.ts';
import { bedCapacityGrains } from '../../../lib/softening/capacity.ts';
import { compensatedHardnessGpg } from '../../../lib/softening/iron.ts';
import { believedGallons, isDue, reserveGallons } from '../../../lib/unit/control.ts';
import { parseLocalDate } from '../../../shared/time/localDate.ts';
import { forUnits, live } from './units.ts';

/** Volumes travel rounded to a tenth of a gallon or a litre. */
const ROUNDING_GALLONS = 0.15;

/** Share of a day's use that comes before the control is asked. */
function shareBeforeControl({ profile }: UnitPlan, date: number): number {
  const at = profile.followsSummerTime ? instantAt : winterInstantAt;
  const time =
    at(profile.zone, date, profile.programmed.regenerationHour) + profile.startsLateMinutes * 60_000;
  return shareBefore(profile.zone.hourAt(time));
}

describe('a sound unit', () => {
  test('reports all the water that its household draws, and only that', () => {
    forUnits({}, (plan) => {
      const { flowDays } = live(plan);
      expect(flowDays.map(({ date }) => date - plan.start)).toEqual([...plan.use.gallons.keys()]);
      flowDays.forEach(({ gallons }, day) => {
        expect(Math.abs(gallons - (plan.use.gallons[day] ?? 0))).toBeLessThan(ROUNDING_GALLONS);
      });
    });
  });

  test('draws a whole dose at each regeneration, and no salt is lost', () => {
    forUnits({}, (plan) => {
      const { salt, regenerations, truth } = live(plan);
      expect(salt.drawnLb).toBeCloseTo(regenerations.length * plan.profile.saltDoseLb);
      expect(salt.startLb + salt.addedLb - salt.drawnLb).toBeCloseTo(salt.endLb);
      expect(salt.endLb).toBeGreaterThanOrEqual(0);
      expect(truth.filter(({ what }) => what === 'fault' || what === 'regeneration-without-salt')).toEqual(
        [],
      );
    });
  });

  test('regenerates on exactly those days on which the rule of the control says so', () => {
    forUnits({ change: { alternating: false } }, (plan) => {
      const { flowDays, regenerations } = live(plan);
      const regenerated = new Set(regenerations.map(({ date }) => date));
      const first = regenerations[0]?.date ?? Infinity;
      let counted = 0;
      flowDays.forEach(({ date, gallons }, day) => {
        const early = shareBeforeControl(plan, date) * gallons;
        const previous = flowDays.slice(Math.max(0, day - 7), day).map((each) => each.gallons);
        const left = believedGallons(plan.profile.programmed) - counted - early;
        const reserve = reserveGallons(previous);
        const tooClose = Math.abs(left - reserve) < 10 * ROUNDING_GALLONS;
        if (date > first && !tooClose) expect(regenerated.has(date)).toBe(isDue(left, reserve));
        counted = regenerated.has(date) ? gallons - early : counted + gallons;
      });
      expect(regenerated.size).toBe(regenerations.length);
    });
  });

  test('runs over by what its cycles take beyond its true capacity', () => {
    forUnits({ change: { alternating: false, metric: false } }, (plan) => {
      const { flowDays, regenerations, truth } = live(plan);
      const capacity = plan.profile.bedFactor * bedCapacityGrains(plan.profile);
      const hardness = compensatedHardnessGpg(plan.profile);
      const ends = new Set(regenerations.map(({ date }) => date));
      const expected = new Map<number, number>();
      // Nothing is known of what the bed had left before the first regeneration.
      let treated = Number.NaN;
      for (const { date, gallons } of flowDays) {
        const early = ends.has(date) ? shareBeforeControl(plan, date) * gallons : gallons;
        treated += early * hardness;
        if (!ends.has(date)) continue;
        if (treated > capacity) expected.set(date, 100 * (treated / capacity - 1));
        treated = (gallons - early) * hardness;
      }
      const firstEnd = regenerations[0]?.date ?? Infinity;
      const told = new Map(
        truth
          .filter(({ what, to }) => what === 'overrun' && to !== null)
          .map(({ to, detail }) => [parseLocalDate(to ?? '') ?? 0, Number(detail.percent)]),
      );
      for (const date of ends) {
        if (date === firstEnd) continue;
        expect(Math.abs((told.get(date) ?? 0) - (expected.get(date) ?? 0))).toBeLessThan(0.3);
      }
    });
  });

  test('with two beds regenerates one each time its count is used up', () => {
    forUnits({ change: { alternating: true, reportsVolumeSince: true, usedAtStart: 0 } }, (plan) => {
      const { flowDays, regenerations } = live(plan);
      const cycle = believedGallons(plan.profile.programmed);
      for (const { gallonsSince } of regenerations) {
        expect(Math.abs((gallonsSince ?? 0) - cycle)).toBeLessThan(ROUNDING_GALLONS);
      }
      const treated = flowDays.reduce((sum, { gallons }) => sum + gallons, 0);
      const over = treated - regenerations.length * cycle;
      expect(over).toBeGreaterThan(-ROUNDING_GALLONS * flowDays.length);
      expect(over).toBeLessThan(cycle + ROUNDING_GALLONS * flowDays.length);
    });
  });
});
