import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { efficiencyOf, outcomeOf } from '../../../../lib/advice/settings/outcome.ts';
import { regenerationWater } from '../../../../lib/advice/settings/regenerationWater.ts';
import { replaySettings, type Site } from '../../../../lib/advice/settings/replaySettings.ts';
import { bedCapacityGrains } from '../../../../lib/softening/capacity.ts';
import { believedGallons } from '../../../../lib/unit/control.ts';
import { plainly, series, useOf } from './plain.ts';

/** One cubic foot on water of 20 gpg. */
const site: Site = { resinCubicFeet: 1, alternating: false, compensatedHardnessGpg: 20 };
/** 6 lb give it 20,000 grains (35 Ill. Adm. Code 604.805(c)), so it softens 1,000 gallons. */
const right = { saltDoseLb: 6, capacityGrains: 20_000, hardnessGpg: 20, regenerationHour: 0 };
const steady = useOf(new Array<number>(365).fill(150));

describe('150 gallons a day, worked out by hand', () => {
  // At midnight before day n (from 0) the control has counted 150 n gallons and holds back 150: it is due once
  // 1,000 - 150 n <= 150, first at n = 6, with 900 counted. So it regenerates every sixth day: 6, 12, ... 360, 60 times,
  // and the last five days are 5/6 of a cycle: 365 / 6 cycles, 365 lb of salt. No cycle takes more than 900 gallons.
  test('right settings: every sixth day, a pound of salt a day, and no hard water', () => {
    const replayed = replaySettings(site, steady, right);
    expect(replayed).toMatchObject({
      regenerations: 60,
      hardDays: 0,
      hardGallons: 0,
      treatedGallons: 54_750,
    });
    expect(replayed.regeneratedOn.slice(0, 3)).toEqual([6, 12, 18]);
    expect(replayed.cycles).toBeCloseTo(365 / 6, 10);
    // It reports 85 gallons a regeneration; 6 lb are dissolved by 2.0 of them and 9 lb by 3.0 (2.99 lb a gallon).
    const report = { kind: 'regeneration', id: 'r', time: 0, known: 0, at: 0, trigger: 'metered' } as const;
    const water = regenerationWater([{ ...report, waterGallons: 85 }], 6, 1);
    expect(water.gallonsAt(9)).toBeCloseTo(86, 1);
    const replay = { site, use: steady, water };
    const outcome = outcomeOf(replay, right);
    expect(outcome.saltLbAYear).toBeCloseTo(365, 8);
    expect(outcome.waterGallonsAYear).toBeCloseTo((365 / 6) * 85, 6);
    // 150 gallons of 20 gpg a day for a pound: 3,000 grains; whole bed for whole dose 20,000 / 6 and 85 / 20.
    const { inUse, rated, rules } = efficiencyOf(replay, outcome, 20);
    expect(inUse.grainsPerLb).toBeCloseTo(3000, 6);
    expect(rated.grainsPerLb).toBeCloseTo(3333.3, 1);
    expect(rated.gallonsPerThousandGrains).toBeCloseTo(4.25, 10);
    // 3,333 is short of the 3,350 of NSF/ANSI 44.
    expect(rules.map(({ rule, verdict }) => [rule.id, verdict])).toEqual([
      ['nsf-ansi-44', 'not met'],
      ['california-2002', 'not met'],
    ]);
  });

  // At 16 gpg it believes in 1,250 gallons: due at n = 8, with 1,200 counted. The bed ran out after 1,000, on the seventh
  // day (from 900 on): 50 gallons of that and all 150 of the eighth came hard. 45 whole cycles are 360 days; the last
  // five are soft.
  test('hardness set too low: two hard-water days in eight', () => {
    const replayed = replaySettings(site, steady, { ...right, hardnessGpg: 16 });
    expect(replayed).toMatchObject({ regenerations: 45, hardDays: 90 });
    expect(replayed.hardGallons).toBeCloseTo(45 * 200, 6);
    expect(replayed.cycles).toBeCloseTo(365 / 8, 10);
  });

  // A fixed reserve of a tenth is 100 gallons: due at n = 6, where 100 are left.
  test('a fixed share of the capacity as reserve', () => {
    expect(replaySettings(site, steady, right, { kind: 'share', share: 0.1 }).regeneratedOn[0]).toBe(6);
    expect(replaySettings(site, steady, right, { kind: 'share', share: 0.3 }).regeneratedOn[0]).toBe(5);
  });

  // 12 lb a bed and 1,000 gallons of 20 gpg: one of two beds regenerates each time 1,000 gallons are through.
  test('two beds in turn: by the count alone', () => {
    const replayed = replaySettings({ ...site, alternating: true }, steady, right);
    expect(replayed).toMatchObject({ regenerations: 54, hardDays: 0 });
    expect(replayed.cycles).toBeCloseTo(54.75, 10);
  });

  // A limit of four days stands before the count does: 4, 8, ... 364.
  test('a control that regenerates by the calendar as well', () => {
    const replayed = replaySettings({ ...site, calendarDays: 4 }, steady, right);
    expect(replayed.regeneratedOn.slice(0, 2)).toEqual([4, 8]);
    expect(replayed.regenerations).toBe(91);
  });
});

const settings = fc.record({
  saltDoseLb: fc.integer({ min: 3, max: 15 }),
  capacityGrains: fc.integer({ min: 8, max: 30 }).map((thousands) => thousands * 1000),
  hardnessGpg: fc.integer({ min: 5, max: 40 }),
  regenerationHour: fc.integer({ min: 0, max: 23 }),
});

test('any use under any settings: as a plain simulation of the rule, hour by hour, has it', () => {
  fc.assert(
    fc.property(series, settings, fc.integer({ min: 5, max: 40 }), (gallons, chosen, hardnessGpg) => {
      const capacityGrains = bedCapacityGrains({ resinCubicFeet: 1, saltDoseLb: chosen.saltDoseLb });
      const plain = plainly(gallons, chosen, { capacityGrains, hardnessGpg });
      fc.pre(plain !== null);
      const replayed = replaySettings(
        { ...site, compensatedHardnessGpg: hardnessGpg },
        useOf(gallons),
        chosen,
      );
      expect(replayed).toMatchObject({ regenerations: plain.regenerations, hardDays: plain.hardDays });
      expect(replayed.hardGallons).toBeCloseTo(plain.hardGallons, 5);
      expect(replayed.cycles * chosen.saltDoseLb).toBeCloseTo(plain.saltLb, 5);
    }),
    { numRuns: 200 },
  );
});

test('a greater programmed capacity never means more regenerations', () => {
  fc.assert(
    fc.property(
      series,
      settings,
      fc.integer({ min: 1, max: 9 }),
      fc.boolean(),
      (gallons, less, thousands, alternating) => {
        const use = useOf(gallons);
        const more = { ...less, capacityGrains: less.capacityGrains + 1000 * thousands };
        const [of, ofMore] = [less, more].map((each) => replaySettings({ ...site, alternating }, use, each));
        expect(ofMore?.regenerations).toBeLessThanOrEqual(of?.regenerations ?? Number.NaN);
      },
    ),
    { numRuns: 200 },
  );
});

test('two beds: as often as their count goes into the water, and soft while they hold what is believed', () => {
  fc.assert(
    fc.property(series, settings, (gallons, chosen) => {
      const believed = believedGallons(chosen);
      const total = gallons.reduce((sum, each) => sum + each, 0);
      fc.pre(Math.abs(total / believed - Math.round(total / believed)) > 1e-6);
      const capacityGrains = bedCapacityGrains({ resinCubicFeet: 1, saltDoseLb: chosen.saltDoseLb });
      const hardnessGpg = Math.min(chosen.hardnessGpg, capacityGrains / believed);
      const replayed = replaySettings(
        { ...site, alternating: true, compensatedHardnessGpg: 0.999 * hardnessGpg },
        useOf(gallons),
        chosen,
      );
      expect(replayed.regenerations).toBe(Math.floor(total / believed));
      expect(replayed.hardDays).toBe(0);
    }),
    { numRuns: 100 },
  );
});
