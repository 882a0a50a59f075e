import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  bedCapacityGrains,
  CAPACITY_POINTS,
  capacityGrainsPerCubicFoot as capacityAt,
  doseForCapacity,
  efficiencyGrainsPerLb,
  MAX_DOSE_LB_PER_CUBIC_FOOT,
} from '../../../lib/softening/capacity.ts';
import { concaveCurve } from '../../../lib/softening/concaveCurve.ts';
import {
  CEILING_GRAINS_PER_LB,
  GRAINS_PER_CUBIC_FOOT_PER_EQ_PER_L,
} from '../../../lib/softening/stoichiometry.ts';

/** Evenly spread: fc.double would pick nearly all its values next to 0. */
const between = (min: number, max: number) =>
  fc.integer({ min: 0, max: 1_000_000 }).map((millionths) => min + ((max - min) * millionths) / 1_000_000);
const resinCubicFeet = between(0.1, 100);
const ascending = (count: number, value: fc.Arbitrary<number>) =>
  fc.array(value, { minLength: count, maxLength: count }).map((values) => values.sort((a, b) => a - b));

/** Whether the middle of three ascending places lies on or above the straight line between the outer two. */
function isConcave(at: (x: number) => number, [a, b, c]: number[], slack: number): boolean {
  if (a === undefined || b === undefined || c === undefined || a === c) return true;
  return at(b) >= at(a) + ((b - a) / (c - a)) * (at(c) - at(a)) - slack;
}

describe('capacity against salt dose', () => {
  it('goes through every point of the table', () => {
    for (const { doseLbPerCubicFoot, grainsPerCubicFoot } of CAPACITY_POINTS.slice(1)) {
      expect(capacityAt(doseLbPerCubicFoot)).toBeCloseTo(grainsPerCubicFoot, 6);
    }
  });

  // Source: scipy.interpolate.PchipInterpolator(doses, grains).derivative(), SciPy 1.17.1, on the same six points.
  it.each([
    [0, 4708.333],
    [6, 1945.946],
    [8, 1363.636],
    [10, 1071.429],
    [15, 642.857],
    [20, 300],
  ])('has the slope of PCHIP at %d lb/ft3: %d grains per lb', (dose, slope) => {
    const step = 1e-5;
    const [from, to] = [Math.max(dose - step, 1e-9), Math.min(dose + step, 20)];
    expect(Math.abs((capacityAt(to) - capacityAt(from)) / (to - from) - slope)).toBeLessThan(0.01);
  });

  it('rises with the dose, ever less', () => {
    fc.assert(
      fc.property(ascending(3, between(1e-6, MAX_DOSE_LB_PER_CUBIC_FOOT)), (doses) => {
        const [low = 0, , high = 0] = doses;
        expect(capacityAt(high)).toBeGreaterThanOrEqual(capacityAt(low));
        expect(isConcave(capacityAt, doses, 1e-6)).toBe(true);
      }),
      { numRuns: 5_000 },
    );
  });

  it('gets strictly more from each tenth of a pound up to 20 lb/ft3 and nothing from more', () => {
    for (let tenths = 2; tenths <= 200; tenths++) {
      expect(capacityAt(tenths / 10)).toBeGreaterThan(capacityAt((tenths - 1) / 10) + 25);
    }
    expect([20.001, 25, 30].map(capacityAt)).toEqual(Array(3).fill(capacityAt(20)));
  });

  it('never beats stoichiometry, nor holds more than new resin has (2.0 eq/L: handbooks, from memory, unverified)', () => {
    fc.assert(
      fc.property(between(1e-9, 20), (dose) => {
        expect(efficiencyGrainsPerLb(dose)).toBeLessThan(CEILING_GRAINS_PER_LB.NaCl);
        expect(capacityAt(dose)).toBeLessThan(2 * GRAINS_PER_CUBIC_FOOT_PER_EQ_PER_L);
      }),
    );
  });

  it('gives back the dose from the capacity, for any bed', () => {
    fc.assert(
      fc.property(resinCubicFeet, between(0.01, 20), (resin, dosePerCubicFoot) => {
        const saltDoseLb = resin * dosePerCubicFoot;
        const capacityGrains = Math.min(
          bedCapacityGrains({ resinCubicFeet: resin, saltDoseLb }),
          resin * 32_500,
        );
        expect(doseForCapacity({ resinCubicFeet: resin, capacityGrains }) / saltDoseLb).toBeCloseTo(1, 9);
      }),
    );
  });
});

describe('a concave curve through any rising, flattening points', () => {
  const points = fc
    .tuple(
      fc.uniqueArray(fc.integer({ min: 1, max: 1_000 }), { minLength: 2, maxLength: 8 }),
      fc.array(fc.integer({ min: 1, max: 20 }), { minLength: 8, maxLength: 8 }),
    )
    .map(([slopes, widths]) => {
      let [x, y] = [0, 0];
      const steps = slopes
        .sort((a, b) => b - a)
        .map((slope, i): [number, number] => {
          const width = widths[i] ?? 1;
          x += width;
          y += slope * width;
          return [x, y];
        });
      return [[0, 0], ...steps] as [number, number][];
    });

  it('goes through them, rises, stays concave and can be inverted', () => {
    fc.assert(
      fc.property(points, ascending(3, between(0, 1)), (table, shares) => {
        const curve = concaveCurve(table);
        const [right = 0, top = 0] = table.at(-1) ?? [];
        const slack = 1e-9 * top;
        for (const [x, y] of table) expect(Math.abs(curve.at(x) - y)).toBeLessThanOrEqual(slack);
        const places = shares.map((share) => share * right);
        const [low = 0, , high = 0] = places;
        expect(curve.at(high)).toBeGreaterThanOrEqual(curve.at(low) - slack);
        expect(isConcave(curve.at, places, slack)).toBe(true);
        const height = curve.at(low);
        expect(Math.abs(curve.at(curve.inverseAt(height)) - height)).toBeLessThanOrEqual(slack);
      }),
      { numRuns: 2_000 },
    );
  });

  it.each([
    [
      'steepening',
      [
        [0, 0],
        [1, 1],
        [2, 3],
      ],
    ],
    [
      'straight',
      [
        [0, 0],
        [1, 1],
        [2, 2],
      ],
    ],
    [
      'falling',
      [
        [0, 0],
        [1, 1],
        [2, -2],
      ],
    ],
    [
      'out of order',
      [
        [0, 0],
        [2, 3],
        [1, 4],
      ],
    ],
    [
      'too few',
      [
        [0, 0],
        [1, 1],
      ],
    ],
    ['none', []],
  ] as [string, [number, number][]][])('refuses points that are %s', (_, table) => {
    expect(() => concaveCurve(table)).toThrow(expect.objectContaining({ code: 'curve-not-concave' }));
  });
});
