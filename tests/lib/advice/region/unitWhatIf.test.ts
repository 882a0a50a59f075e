import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { correctionOf } from '../../../../lib/advice/region/correction.ts';
import type { Imagined } from '../../../../lib/advice/region/imagined.ts';
import { SIDES, unitWhatIf } from '../../../../lib/advice/region/unitWhatIf.ts';
import { MEASURES } from '../../../../lib/advice/region/year.ts';
import { between, NODES, ofOneUnit, tiltAt, yearAhead } from '../../../../lib/advice/region/yearAhead.ts';
import { regenerationWater } from '../../../../lib/advice/settings/regenerationWater.ts';
import { replaySettings } from '../../../../lib/advice/settings/replaySettings.ts';
import { bedCapacityGrains } from '../../../../lib/softening/capacity.ts';
import { newUnitState } from '../../../../lib/unit/state.ts';
import { rulesSchema } from '../../../../lib/watch/rules.ts';
import { recordOf } from '../../../../shared/records.ts';
import { unitRecordSchema } from '../../../../shared/registry.ts';
import { toUnit } from '../../../../shared/toUnit.ts';
import { unitRecord } from '../../../support/fleet.ts';
import { plainly, series, useOf } from '../settings/plain.ts';

const rules = rulesSchema.parse({});
const mismatch = rules['setting-mismatch'];

/** A single bed with its water and its settings, at midnight, and some days of its household. */
function pastOf(
  given: { resin?: number; dose?: number; hardness?: number; capacity?: number; set?: number; hour?: number },
  gallons: readonly number[],
) {
  const { resin = 1, dose = 6, hardness = 20, capacity = 20_000, set = 20, hour = 0 } = given;
  const record = unitRecord({
    resin: { value: resin, unit: '[cft_i]' },
    saltDose: { value: dose, unit: '[lb_av]' },
    hardness: { value: hardness, unit: '[gr]/[gal_us]' },
    iron: undefined,
    arrangement: 'single',
    programmed: {
      hardness: { value: set, unit: '[gr]/[gal_us]' },
      capacity: { value: capacity, unit: '[gr]' },
      regenerationHour: hour,
    },
  });
  const unit = toUnit(unitRecordSchema().parse(record));
  const state = newUnitState(unit, rules.fold);
  const { resinCubicFeet, alternating } = unit;
  const replay = {
    site: { resinCubicFeet, alternating, compensatedHardnessGpg: state.compensatedHardnessGpg },
    use: useOf(gallons),
    water: regenerationWater([], state.bed.saltDoseLb, resinCubicFeet),
  };
  return {
    unit,
    state,
    replay,
    ask: (imagined: Imagined) => unitWhatIf(unit, { state, replay }, imagined, mismatch),
    correction: () => correctionOf(unit, { state, open: [], replay }, mismatch),
  };
}

const steady = new Array<number>(364).fill(150);

describe('150 gallons a day of 20 gpg through a cubic foot, worked out by hand', () => {
  // 6 lb give 20,000 grains (35 Ill. Adm. Code 604.805(c)): 1,000 gallons. Due at 850 counted, so on every sixth midnight
  // with 900 counted: 365 / 6 regenerations a year of 6 lb, a pound a day.
  test('as it should be: 365 lb, of which 0.6066 is chloride and 0.3934 sodium, and no hard water', () => {
    const { past, ahead } = pastOf({}, steady).ask({ corrected: true });
    expect(past.today.saltLb).toBeCloseTo(365, 6);
    expect(past.today.chlorideLb).toBeCloseTo(365 * 0.60663, 1);
    expect(past.today.sodiumLb).toBeCloseTo(365 * 0.39337, 1);
    // 150 gallons of 20 gpg a day, each grain for 0.45940 grains of sodium: 3,000 x 365 x 0.4594 / 7,000 lb.
    expect(past.today.sodiumInWaterLb).toBeCloseTo(71.86, 2);
    expect(past.today).toMatchObject({ hardDays: 0, potassiumLb: 0, potassiumInWaterLb: 0 });
    // Set right, it stays; and of what stays nothing differs, for sure.
    expect(past.imagined).toEqual(past.today);
    expect(ahead.difference.mean).toEqual(recordOf(MEASURES, () => 0));
    for (const measure of MEASURES) expect(ofOneUnit(ahead.difference, measure)).toBe(0);
  });

  // At 10 gpg it believes in 2,000 gallons: due on the 13th midnight (n = 13, 1,950 counted, 50 left). Corrected it is the
  // above: 365/6 regenerations instead of 365/13.
  test('hardness set to half: corrected it costs more salt than half, and every hard-water day is gone', () => {
    const wrong = pastOf({ set: 10 }, steady);
    const { past } = wrong.ask({ corrected: true });
    expect(past.today.saltLb).toBeCloseTo((365 / 13) * 6, 6);
    // Soft for 1,000 gallons: hard from within the seventh day on, 7 days in 13.
    expect(past.today.hardDays).toBeCloseTo((365 * 7) / 13, 6);
    expect(past.imagined.saltLb).toBeCloseTo(365, 6);
    expect(past.imagined.hardDays).toBe(0);
    const correction = wrong.correction();
    expect(correction).toMatchObject({
      cause: 'hardness-too-low',
      programmed: { capacityGrains: 20_000, hardnessGpg: 10 },
      set: { capacityGrains: 20_000, hardnessGpg: 20 },
      alertId: null,
    });
    expect(correction?.probability).toBeGreaterThan(0.9);
    expect(correction?.saves.saltLb.value).toBeCloseTo((365 / 13) * 6 - 365, 4);
    // The bed may give a little less than the curve says, and then run out sooner.
    expect(correction?.saves.hardDays.value).toBeGreaterThan(180);
  });

  // Capacity set to 10,000: 500 gallons, due on every third midnight (n = 3, 450 counted, 50 left): 365 / 3 x 6 lb.
  test('capacity set to half: corrected it saves a year’s 365 lb', () => {
    const correction = pastOf({ capacity: 10_000 }, steady).correction();
    expect(correction?.cause).toBe('capacity-too-low');
    expect(correction?.saves.saltLb.value).toBeCloseTo((365 / 3) * 6 - 365, 4);
    expect(pastOf({}, steady).correction()).toBeNull();
  });
});

test('potassium chloride alone changes salt, chloride, sodium and potassium, by the molar masses, and nothing else', () => {
  fc.assert(
    fc.property(series, fc.integer({ min: 5, max: 35 }), (gallons, hardness) => {
      const { past } = pastOf({ hardness, set: hardness }, gallons).ask({ salt: 'KCl' });
      const { today, imagined } = past;
      // M: NaCl 58.443, KCl 74.551, K 39.0983, Cl 35.453, CaCO3 100.0869; see the tests of lib/softening.
      expect(imagined.saltLb).toBeCloseTo(1.27562 * today.saltLb, 1);
      expect(imagined.chlorideLb).toBeCloseTo(today.chlorideLb, 6);
      expect(imagined.chlorideLb / imagined.saltLb).toBeCloseTo(0.47555, 5);
      expect(imagined.potassiumLb).toBeCloseTo((39.0983 / 74.551) * imagined.saltLb, 6);
      // 13.374 mg/L of potassium for 7.864 of sodium.
      expect(imagined.potassiumInWaterLb).toBeCloseTo((13.374 / 7.864) * today.sodiumInWaterLb, 1);
      expect(imagined).toMatchObject({
        waterGallons: today.waterGallons,
        hardDays: today.hardDays,
        sodiumLb: 0,
        sodiumInWaterLb: 0,
      });
      // No bed can have taken out more than 4,698.9 grains for a pound.
      const grains = imagined.potassiumInWaterLb / (39.0983 / 50.04345 / 7000);
      expect(grains).toBeLessThan(4698.9 * imagined.saltLb);
    }),
    { numRuns: 30 },
  );
});

test('what is imagined at once is as a plain simulation has it, with a reserve by forecast as its own replay', () => {
  fc.assert(
    fc.property(series, fc.integer({ min: 4, max: 15 }), (gallons, dose) => {
      const past = pastOf({ hour: 2 }, gallons);
      const all = past.ask({ doseLbPerCubicFoot: dose, reserve: 'forecast', salt: 'KCl' });
      const capacity = bedCapacityGrains({ resinCubicFeet: 1, saltDoseLb: dose });
      const settings = {
        saltDoseLb: dose,
        // The margin that a fleet is given: what rounding to thousands takes of a cubic foot at 6 lb on the average.
        capacityGrains: 0.975 * capacity,
        hardnessGpg: 20,
        regenerationHour: 2,
      };
      const own = replaySettings(past.replay.site, past.replay.use, settings, { kind: 'forecast' });
      const years = gallons.length / 365;
      expect(all.past.imagined.saltLb).toBeCloseTo((1.275619 * own.cycles * dose) / years, 2);
      expect(all.past.imagined.hardDays).toBeCloseTo(own.hardDays / years, 8);
      const plain = plainly(gallons, settings, { capacityGrains: capacity, hardnessGpg: 20 });
      if (!plain) return;
      const { imagined } = past.ask({ doseLbPerCubicFoot: dose }).past;
      expect(imagined.saltLb).toBeCloseTo(plain.saltLb / years, 4);
      expect(imagined.hardDays).toBeCloseTo(plain.hardDays / years, 6);
    }),
    { numRuns: 30 },
  );
});

test('a year to come is the past’s mean, and what lies between is never surer of itself than by its parts', () => {
  fc.assert(
    fc.property(series, fc.integer({ min: 4, max: 15 }), (gallons, dose) => {
      const { ahead, past } = pastOf({}, gallons).ask({ doseLbPerCubicFoot: dose });
      for (const measure of MEASURES) {
        const [today, imagined, difference] = SIDES.map((side) => ahead[side].mean[measure]);
        expect(difference).toBeCloseTo((imagined ?? 0) - (today ?? 0), 6);
        for (const side of SIDES) expect(ahead[side].variance[measure]).toBeGreaterThanOrEqual(0);
      }
      // The control goes by what is programmed: how much the bed gives changes hard water, and no salt.
      expect(ahead.today.mean.saltLb).toBeCloseTo(past.today.saltLb, 6);
    }),
    { numRuns: 30 },
  );
});

test('the nodes have the moments of a normal up to the fifth', () => {
  const moments = [0, 1, 2, 3, 4, 5].map((power) =>
    NODES.reduce((sum, { deviations, weight }) => sum + weight * deviations ** power, 0),
  );
  [1, 0, 1, 0, 3, 0].forEach((expected, power) => {
    expect(moments[power]).toBeCloseTo(expected, 12);
  });
});

test('two years that differ by what is the same everywhere differ for sure, but for drift', () => {
  const year = (lb: number) => ({ ...recordOf(MEASURES, () => 0), saltLb: lb });
  const some = { days: 365, parts: [20, 40, 60].map(year), byNode: [120, 120, 120].map(year), tilt: 0.3 };
  const more = { days: 365, parts: [30, 50, 70].map(year), byNode: [150, 150, 150].map(year), tilt: 0.3 };
  const { mean, variance } = between(some, more);
  expect(mean.saltLb).toBeCloseTo(30, 9);
  expect(Math.sqrt(variance.saltLb)).toBeCloseTo(0.15 * 30, 9);
  // Three parts with a variance of 400: of their sum 1,200, once for the past and once for the year to come.
  expect(yearAhead(some).variance.saltLb).toBeCloseTo(2400 + (0.15 * 120) ** 2, 9);
});

test('of what the bed gives, own and common parts add up to the whole; the curve is sure where a source was read', () => {
  const year = (days: number) => ({ ...recordOf(MEASURES, () => 0), hardDays: days });
  // A line through the nodes: 4 days for each deviation.
  const byNode = NODES.map(({ deviations }) => year(50 - 4 * deviations));
  const parts = [year(50)];
  const at = (tilt: number) => yearAhead({ days: 365, parts, byNode, tilt });
  expect(ofOneUnit(at(0), 'hardDays')).toBeCloseTo((0.15 * 50) ** 2 + 4 ** 2, 9);
  expect(at(-0.9).byCurve.tilt.hardDays).toBeCloseTo(0.9 * 4, 9);
  expect(tiltAt(6)).toBe(0);
  // Handbooks, from memory: 24,000 to 27,000 at 10 lb. Within some 1.3 deviations about 25,500.
  expect(25_500 * (1 + 1.2816 * tiltAt(10))).toBeGreaterThan(26_900);
  expect(25_500 * (1 + 1.2816 * tiltAt(10))).toBeLessThan(27_500);
});
