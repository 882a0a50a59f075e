import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type SpentCycle, WASTE_CAUSES, type Wasted, wastedAt } from '../../../lib/salt/waste.ts';

/** 1 ft³ at 6 lb is 20,000 gr (35 Ill. Adm. Code 604.805(c)); at 20 gpg 1,000 gal, of which a day's 240 is held back. */
const DUE: SpentCycle = {
  trigger: 'metered',
  doseLb: 6,
  drawnShare: 1,
  capacityGrains: 20_000,
  availableGrains: 20_000,
  usedGrains: 15_200,
  leakedGrains: 0,
  hardnessGpg: 20,
  countedGallons: 760,
  reserveGallons: 240,
  control: { gallons: 1_000, hardnessGpg: 20 },
};
const EARLY = { usedGrains: 8_000, countedGallons: 400 };

// A thousand grains are 0.3 lb of this dose, and 1,000 / 3,350 = 0.298507 lb of one that is efficiency rated.
const CASES: [string, Partial<SpentCycle>, Wasted][] = [
  // 4,800 gr x 0.3 / 1,000; 15,200 x (0.3 - 0.298507) / 1,000.
  ['a control that waits until it is due', {}, { reserve: 1.44, dose: 0.022687 }],
  // Left are 12,000 gr: 4,800 of the reserve, 7,200 of whoever did not wait.
  [
    'somebody who starts it by hand',
    { ...EARLY, trigger: 'manual' },
    { manual: 2.16, reserve: 1.44, dose: 0.01194 },
  ],
  [
    'a limit of days',
    { ...EARLY, trigger: 'override' },
    { 'calendar-limit': 2.16, reserve: 1.44, dose: 0.01194 },
  ],
  ['a control that does not wait', EARLY, { repeated: 2.16, reserve: 1.44, dose: 0.01194 }],
  // 730 of 760 gal are within 5 %: 600 gr more, of the day's rounding.
  [
    'one that is early by a rounding',
    { usedGrains: 14_600, countedGallons: 730 },
    { reserve: 1.62, dose: 0.021791 },
  ],
  // By hand just before it is due: nobody's fault but the reserve's.
  ['somebody who starts it when it is due', { trigger: 'manual' }, { reserve: 1.44, dose: 0.022687 }],
  // 16,000 gr programmed: due at 800 - 240 = 560 gal, 11,200 gr; 4,000 of the 8,800 left are never used.
  [
    'a capacity set too low',
    { usedGrains: 11_200, countedGallons: 560, control: { gallons: 800, hardnessGpg: 20 } },
    { 'capacity-too-low': 1.2, reserve: 1.44, dose: 0.016716 },
  ],
  // The same 800 gal by 20,000 / 25.
  [
    'a hardness set too high',
    { usedGrains: 11_200, countedGallons: 560, control: { gallons: 800, hardnessGpg: 25 } },
    { 'hardness-too-high': 1.2, reserve: 1.44, dose: 0.016716 },
  ],
  // 16,000 / 25 = 640 gal: 7,200 gr are kept from use, by two factors of 1.25: 3,600 each.
  [
    'both',
    { usedGrains: 8_000, countedGallons: 400, control: { gallons: 640, hardnessGpg: 25 } },
    { 'capacity-too-low': 1.08, 'hardness-too-high': 1.08, reserve: 1.44, dose: 0.01194 },
  ],
  // 25,000 / 25 = 1,000 gal: one setting makes up for the other, and nothing is kept from use.
  [
    'settings that make up for each other',
    { control: { gallons: 1_000, hardnessGpg: 25 } },
    { reserve: 1.44, dose: 0.022687 },
  ],
  // By hand at 400 gal of a control that is set to 800: settings 4,000 gr, reserve 4,800, by hand the other 3,200.
  [
    'by hand where settings would have wasted some anyway',
    { ...EARLY, trigger: 'manual', control: { gallons: 800, hardnessGpg: 20 } },
    { 'capacity-too-low': 1.2, reserve: 1.44, manual: 0.96, dose: 0.01194 },
  ],
  // 12,000 gr left, 4,800 of them in reserve: the rest the settings it fell back to do not let it use.
  [
    'a control that lost its settings',
    { ...EARLY, control: null },
    { 'capacity-too-low': 2.16, reserve: 1.44, dose: 0.01194 },
  ],
  [
    'a control that counts nothing',
    { ...EARLY, control: { gallons: Infinity, hardnessGpg: 0 } },
    { repeated: 2.16, reserve: 1.44, dose: 0.01194 },
  ],
  // It ran out: nothing was left. 6 - 20,000 / 3,350.
  ['a bed that ran out', { usedGrains: 25_000, countedGallons: 1_250 }, { dose: 0.029851 }],
  // The dose before was short, so 10,000 gr were to be had, of which 1,000 are left; 19,000 are restored.
  [
    'a cycle after a short dose',
    { availableGrains: 10_000, usedGrains: 9_000, countedGallons: 450 },
    { reserve: 0.3, dose: 0.028358 },
  ],
  // One of two beds holds nothing back.
  ['one of two beds', { usedGrains: 20_000, countedGallons: 1_000, reserveGallons: 0 }, { dose: 0.029851 }],
  // 15 lb give 30,000 gr: 2,000 gr/lb. 15 - 30,000 / 3,350.
  [
    'a rich dose',
    {
      doseLb: 15,
      capacityGrains: 30_000,
      availableGrains: 30_000,
      usedGrains: 30_000,
      countedGallons: 1_500,
    },
    { dose: 6.044776 },
  ],
  // 5,000 gr / 3,350.
  ['a leak', { leakedGrains: 5_000 }, { leak: 1.492537, reserve: 1.44, dose: 0.022687 }],
  [
    'a regeneration of which an even half is believed',
    { drawnShare: 0.5 },
    { reserve: 0.72, dose: 0.011343 },
  ],
];

describe('salt spent in vain', () => {
  it.each(CASES)('by %s, by hand', (_, over, want) => {
    const close = Object.entries(want).map(([cause, lb]) => [cause, expect.closeTo(lb, 6)]);
    expect(wastedAt({ ...DUE, ...over })).toEqual(Object.fromEntries(close));
  });

  it('is booked once: with what the water needed it is the dose, and nothing of it is below nothing', () => {
    const share = fc.double({ min: 0, max: 1, noNaN: true });
    const grains = fc.double({ min: 0, max: 60_000, noNaN: true });
    const gallons = fc.double({ min: 0, max: 3_000, noNaN: true });
    const cycle = fc.record({
      trigger: fc.constantFrom('metered', 'manual', 'override', 'unknown'),
      doseLb: fc.double({ min: 1, max: 40, noNaN: true }),
      drawnShare: share,
      capacityGrains: fc.double({ min: 3_000, max: 60_000, noNaN: true }),
      availableGrains: grains,
      usedGrains: grains,
      leakedGrains: grains,
      hardnessGpg: fc.double({ min: 0.1, max: 90, noNaN: true }),
      countedGallons: gallons,
      reserveGallons: gallons,
      control: fc.option(
        fc.record({
          gallons: fc.oneof(gallons, fc.constant(Infinity)),
          hardnessGpg: fc.double({ min: 0, max: 90, noNaN: true }),
        }),
      ),
    });
    fc.assert(
      fc.property(cycle, (drawn) => {
        const { capacityGrains, doseLb, drawnShare } = drawn;
        const each: SpentCycle = {
          ...drawn,
          availableGrains: Math.min(drawn.availableGrains, capacityGrains),
        };
        const wasted = wastedAt(each);
        for (const lb of Object.values(wasted)) expect(lb).toBeGreaterThanOrEqual(0);
        const sum = WASTE_CAUSES.reduce((lb, cause) => lb + (wasted[cause] ?? 0), 0);
        const restored = capacityGrains - Math.max(0, each.availableGrains - each.usedGrains);
        const needed =
          drawnShare *
          Math.max(0, restored - each.leakedGrains) *
          Math.min(doseLb / capacityGrains, 1 / 3_350);
        expect(sum + needed).toBeCloseTo(drawnShare * doseLb, 6);
      }),
      { numRuns: 2_000 },
    );
  });
});
