import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  brineGallonsForDose,
  fillGallonsForDose,
  saltLbInSaturatedBrine,
  saltPercentFromSalometer,
} from '../../../lib/softening/brine.ts';
import {
  bedCapacityGrains,
  capacityGrainsPerCubicFoot,
  doseForCapacity,
} from '../../../lib/softening/capacity.ts';
import { CHLORIDE_CRITERIA, chlorideLb, chlorideMgPerL } from '../../../lib/softening/chloride.ts';
import { californiaRule, EFFICIENCY_RULES, judgeEfficiency } from '../../../lib/softening/efficiency.ts';
import { isSofteningError, type SofteningErrorCode } from '../../../lib/softening/errors.ts';
import { convertHardness, type HardnessUnit, usgsHardnessClass } from '../../../lib/softening/hardness.ts';
import { compensatedHardnessGpg } from '../../../lib/softening/iron.ts';
import { daysBetweenRegenerations, gallonsPerCycle, saltLbPerDay } from '../../../lib/softening/sizing.ts';
import { addedMgPerL, mgPerGlass, PHYSICIAN_NOTE, SODIUM_LEVELS } from '../../../lib/softening/sodium.ts';
import {
  CEILING_GRAINS_PER_LB,
  checkedEfficiency,
  shareOfCeiling,
} from '../../../lib/softening/stoichiometry.ts';
import { parseLocalDate } from '../../../shared/time/localDate.ts';

const unit = fc.constantFrom<HardnessUnit>('gpg', 'mg/L', 'mmol/L', 'dH', 'fH', 'Clark');

describe('hardness', () => {
  it('converts there and back, and by way of any third unit', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 500, noNaN: true }),
        unit,
        unit,
        unit,
        (value, from, via, to) => {
          const direct = convertHardness(value, from, to);
          const detour = convertHardness(convertHardness(value, from, via), via, to);
          expect(detour / direct).toBeCloseTo(1, 12);
          expect(convertHardness(direct, to, from) / value).toBeCloseTo(1, 12);
        },
      ),
    );
  });

  // Source: USGS FAQ "Do you have information about water hardness in the United States?", in whole mg/L.
  it.each([
    ['soft', 0, 60],
    ['moderately hard', 61, 120],
    ['hard', 121, 180],
    ['very hard', 181, 10_000],
  ] as const)('is %s from %d to %d mg/L', (name, from, to) => {
    expect(
      [from, to + 0.4].map((mgPerL) => usgsHardnessClass(convertHardness(mgPerL, 'mg/L', 'gpg'))),
    ).toEqual([name, name]);
  });
});

describe('efficiency rules', () => {
  const [nsf, , california, legacy] = EFFICIENCY_RULES;
  if (!nsf || !california || !legacy) throw new Error('the table of rules is short');

  // Water: 80 gal/ft3 a regeneration (AWWA/ASCE Water Treatment Plant Design p. 12.46), over 20 and over 15 kgr.
  it.each([
    ['at both limits', nsf, { grainsPerLb: 3_350, gallonsPerThousandGrains: 5, onDemand: true }, 'met'],
    [
      '80 gal for 20 kgr',
      nsf,
      { grainsPerLb: 3_350, gallonsPerThousandGrains: 80 / 20, onDemand: true },
      'met',
    ],
    [
      '80 gal for 15 kgr',
      nsf,
      { grainsPerLb: 3_350, gallonsPerThousandGrains: 80 / 15, onDemand: true },
      'not met',
    ],
    [
      'a little less for its salt',
      nsf,
      { grainsPerLb: 3_349, gallonsPerThousandGrains: 4, onDemand: true },
      'not met',
    ],
    ['by the calendar', nsf, { grainsPerLb: 4_500, gallonsPerThousandGrains: 4, onDemand: false }, 'not met'],
    ['water not known', nsf, { grainsPerLb: 3_350, onDemand: true }, 'unknown'],
    ['water not known, salt too low', nsf, { grainsPerLb: 3_000, onDemand: true }, 'not met'],
    ['the 6 lb/ft3 anchor', california, { grainsPerLb: 3_333, onDemand: true }, 'not met'],
    ['the statute', california, { grainsPerLb: 4_000, onDemand: true }, 'met'],
    ['an old clock unit', legacy, { grainsPerLb: 2_850, onDemand: false }, 'met'],
    ['an old demand unit', legacy, { grainsPerLb: 2_000, onDemand: true }, 'met'],
    ['an old wasteful clock unit', legacy, { grainsPerLb: 2_000, onDemand: false }, 'not met'],
  ] as const)('judges %s', (_, rule, measured, verdict) => {
    expect(judgeEfficiency(rule, measured)).toBe(verdict);
  });

  // Source: Cal. Health & Safety Code 116785(b)(1)-(2).
  it.each([
    ['1999-12-31', undefined],
    ['2000-01-01', 3_350],
    ['2001-12-31', 3_350],
    ['2002-01-01', 4_000],
  ])('asks of a Californian unit installed on %s for %s grains per lb', (date, floor) => {
    expect(californiaRule(parseLocalDate(date) ?? Number.NaN)?.minGrainsPerLb).toBe(floor);
  });
});

describe('published levels', () => {
  // Sources: EPA Q&A citing EPA 822-R-03-006; Minn. R. 7050 by the MPCA; 40 CFR 143.3; EPA 440/5-88-001 from memory.
  it('are the published ones', () => {
    expect(SODIUM_LEVELS.map((level) => level.fromMgPerL)).toEqual([20, 30]);
    expect(CHLORIDE_CRITERIA.map((each) => [each.mgPerL, each.averagedOverHours, each.basis])).toEqual([
      [230, 96, 'from memory, unverified'],
      [860, 1, 'from memory, unverified'],
      [230, 96, 'read in the source'],
      [860, 24, 'read in the source'],
      [250, undefined, 'read in the source'],
      [250, undefined, 'read in the source'],
    ]);
  });
});

describe('notes shown with sodium and potassium', () => {
  it.each(Object.entries(PHYSICIAN_NOTE))('leave the ruling on %s to a physician', (_, note) => {
    expect(note).toContain('ask your physician');
  });
});

describe('brine', () => {
  it('carries the dose it was made for', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.1, max: 100, noNaN: true }), (saltLb) => {
        expect(saltLbInSaturatedBrine(brineGallonsForDose(saltLb)) / saltLb).toBeCloseTo(1, 12);
        expect(brineGallonsForDose(saltLb)).toBeGreaterThan(fillGallonsForDose(saltLb));
      }),
    );
  });
});

describe('impossible inputs', () => {
  const work = { capacityGrains: 20_000, hardnessGpg: 20, gallonsPerDay: 240, reserveGallons: 240 };
  const notPositive = [0, -1, Number.NaN, Infinity];
  const negative = [-1e-9, Number.NaN, Infinity];
  const overTheCeiling = CEILING_GRAINS_PER_LB.NaCl * 1.000001;

  const cases: [what: string, SofteningErrorCode, number[], (value: number) => unknown][] = [
    ['dose', 'dose-out-of-range', [...notPositive, 30.001], capacityGrainsPerCubicFoot],
    [
      'salt dose of a bed',
      'dose-out-of-range',
      [...notPositive, 31],
      (x) => bedCapacityGrains({ resinCubicFeet: 1, saltDoseLb: x }),
    ],
    [
      'resin',
      'resin-out-of-range',
      notPositive,
      (x) => bedCapacityGrains({ resinCubicFeet: x, saltDoseLb: 6 }),
    ],
    [
      'resin, backwards',
      'resin-out-of-range',
      notPositive,
      (x) => doseForCapacity({ resinCubicFeet: x, capacityGrains: 20_000 }),
    ],
    [
      'wanted capacity',
      'capacity-out-of-range',
      [...notPositive, 32_501],
      (x) => doseForCapacity({ resinCubicFeet: 1, capacityGrains: x }),
    ],
    ['hardness, classed', 'hardness-out-of-range', negative, usgsHardnessClass],
    ['raw hardness', 'hardness-out-of-range', negative, (x) => compensatedHardnessGpg({ hardnessGpg: x })],
    [
      'iron',
      'iron-out-of-range',
      negative,
      (x) => compensatedHardnessGpg({ hardnessGpg: 10, ironMgPerL: x }),
    ],
    [
      'iron allowance',
      'iron-allowance-out-of-range',
      negative,
      (x) => compensatedHardnessGpg({ hardnessGpg: 10, ironAllowanceGpgPerMgPerL: x }),
    ],
    ['efficiency without salt', 'salt-out-of-range', notPositive, (x) => checkedEfficiency(1_000, x)],
    ['grains removed', 'capacity-out-of-range', negative, (x) => checkedEfficiency(x, 1)],
    ['efficiency on NaCl', 'efficiency-impossible', [overTheCeiling], (x) => checkedEfficiency(x * 6, 6)],
    ['efficiency on KCl', 'efficiency-impossible', [4_700, 5_993], (x) => shareOfCeiling(x, 'KCl')],
    [
      'efficiency of a rule',
      'efficiency-impossible',
      [overTheCeiling],
      (x) => EFFICIENCY_RULES.map((rule) => judgeEfficiency(rule, { grainsPerLb: x, onDemand: true })),
    ],
    [
      'efficiency of chloride',
      'efficiency-impossible',
      [overTheCeiling],
      (x) => chlorideMgPerL({ hardnessGpg: 20, grainsPerLb: x }),
    ],
    [
      'no efficiency',
      'efficiency-out-of-range',
      notPositive,
      (x) => saltLbPerDay({ ...work, grainsPerLb: x }),
    ],
    ['salt', 'salt-out-of-range', negative, (x) => chlorideLb(x)],
    ['fill', 'salt-out-of-range', negative, fillGallonsForDose],
    ['brine for a dose', 'salt-out-of-range', negative, brineGallonsForDose],
    ['brine drawn', 'volume-out-of-range', negative, saltLbInSaturatedBrine],
    ['salometer', 'salometer-out-of-range', [-1, 101, Number.NaN], saltPercentFromSalometer],
    ['hardness removed', 'hardness-out-of-range', negative, (x) => addedMgPerL(x)],
    ['concentration', 'concentration-out-of-range', negative, mgPerGlass],
    [
      'hardness of a cycle',
      'hardness-out-of-range',
      notPositive,
      (x) => gallonsPerCycle({ ...work, hardnessGpg: x }),
    ],
    [
      'reserve',
      'volume-out-of-range',
      [...negative, 1_000],
      (x) => daysBetweenRegenerations({ ...work, reserveGallons: x }),
    ],
    [
      'use',
      'volume-out-of-range',
      notPositive,
      (x) => daysBetweenRegenerations({ ...work, gallonsPerDay: x }),
    ],
  ];

  it.each(cases)('%s: %s', (_, code, values, attempt) => {
    for (const value of values) {
      const caught = thrownBy(() => attempt(value));
      expect(isSofteningError(caught, code), `${value} gave ${caught}`).toBe(true);
    }
  });

  it('are told apart from other errors and by code', () => {
    const caught = thrownBy(() => capacityGrainsPerCubicFoot(31));
    expect(isSofteningError(caught)).toBe(true);
    expect(isSofteningError(caught, 'salt-out-of-range')).toBe(false);
    expect(isSofteningError(new Error('dose-out-of-range'))).toBe(false);
    expect(caught).toMatchObject({
      name: 'SofteningError',
      value: 31,
      message: expect.stringContaining('31 lb'),
    });
  });
});

function thrownBy(attempt: () => unknown): unknown {
  try {
    attempt();
  } catch (error) {
    return error;
  }
  return 'nothing thrown';
}
