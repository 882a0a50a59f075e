import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gallonsOf, gpgOf, gpmOf, grainsOf, lbOf } from '../../shared/quantity.ts';
import {
  capacitySchema,
  flowSchema,
  hardnessSchema,
  massReadingSchema,
  massSchema,
  volumeSchema,
} from '../../shared/quantitySchemas.ts';

/** UCUM essence file (ucum-org/ucum, 2024): [gal_us] = 231 [in_i]3, [in_i] = 2.54 cm. */
const LITRES_IN_A_GALLON = (231 * 2.54 ** 3) / 1_000;
/** The same: [gr] = 64.79891 mg, [lb_av] = 7000 [gr]. */
const GRAMS_IN_A_GRAIN = 0.06479891;
const KG_IN_A_POUND = (7_000 * GRAMS_IN_A_GRAIN) / 1_000;
/** Molar mass of CaCO3, g/mol, from the standard atomic weights. */
const MG_CACO3_IN_A_MMOL = 100.0869;

/** Each code of the contract, by quantity: how much of it is one of the trade's unit. */
const CODES = {
  volume: {
    schema: volumeSchema(),
    convert: gallonsOf,
    codes: { '[gal_us]': 1, L: LITRES_IN_A_GALLON, m3: LITRES_IN_A_GALLON / 1_000 },
  },
  flow: { schema: flowSchema(), convert: gpmOf, codes: { '[gal_us]/min': 1, 'L/min': LITRES_IN_A_GALLON } },
  mass: { schema: massSchema(), convert: lbOf, codes: { '[lb_av]': 1, kg: KG_IN_A_POUND } },
  'mass reading': { schema: massReadingSchema(), convert: lbOf, codes: { '[lb_av]': 1, kg: KG_IN_A_POUND } },
  hardness: {
    schema: hardnessSchema(),
    convert: gpgOf,
    codes: {
      '[gr]/[gal_us]': 1,
      'mg/L': (1_000 * GRAMS_IN_A_GRAIN) / LITRES_IN_A_GALLON,
      'mmol/L': (1_000 * GRAMS_IN_A_GRAIN) / LITRES_IN_A_GALLON / MG_CACO3_IN_A_MMOL,
    },
  },
  'exchange capacity': {
    schema: capacitySchema(),
    convert: grainsOf,
    codes: { '[gr]': 1, g: GRAMS_IN_A_GRAIN },
  },
};

const ALL_CODES = Object.values(CODES).flatMap(({ codes }) => Object.keys(codes));
/** UCUM codes of other sizes, spellings that UCUM does not know, and names that every object has. */
const FOREIGN = [
  '[gal_br]',
  'gal',
  'l',
  'ML',
  'lb',
  '[lb_tr]',
  'ppm',
  'gpg',
  '[gr]/L',
  '',
  'toString',
  '__proto__',
];

describe.each(Object.entries(CODES))('a %s', (_, { schema, convert, codes }) => {
  it('takes the codes of its quantity and no others', () => {
    const taken = [...ALL_CODES, ...FOREIGN].filter((unit) => schema.safeParse({ value: 1, unit }).success);
    expect(new Set(taken)).toEqual(new Set(Object.keys(codes)));
  });

  it('is the same amount in whatever unit it comes', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-6, max: 1e9, noNaN: true }),
        fc.constantFrom(...Object.entries<number>(codes)),
        (amount, [unit, size]) => {
          const wire = { value: amount * size, unit };
          expect(schema.safeParse(wire).success).toBe(true);
          expect(convert(wire) / amount).toBeCloseTo(1, 12);
          expect(convert({ value: 0, unit })).toBe(0);
        },
      ),
    );
  });

  it('is a number that stays finite in the trade’s unit', () => {
    for (const unit of Object.keys(codes)) {
      const taken = [-1e308, -1e300, 1e300, 1e308, Number.MAX_VALUE].filter(
        (value) => schema.safeParse({ value, unit }).success,
      );
      expect(taken).toEqual(schema === massReadingSchema() ? [-1e300, 1e300] : [1e300]);
      for (const value of taken) expect(convert({ value, unit })).toSatisfy(Number.isFinite);
      for (const value of [Number.NaN, Infinity, '1', null, undefined]) {
        expect(schema.safeParse({ value, unit }).success).toBe(false);
      }
    }
  });

  it('is negative only as a level sensor may read it', () => {
    for (const unit of Object.keys(codes)) {
      expect(schema.safeParse({ value: -1e-9, unit }).success).toBe(schema === massReadingSchema());
    }
  });
});

describe('published conversions', () => {
  // Within half of the last digit printed, where the source says no more.
  it.each([
    ['17.118 mg/L, gpg', 1, gpgOf({ value: 17.118, unit: 'mg/L' }), 3e-5, '64.79891 / 3.785411784'],
    ['1 mmol/L, gpg', 5.8469, gpgOf({ value: 1, unit: 'mmol/L' }), 5e-5, '100.0869 / 17.11806'],
    ['1 m3, gal', 264.172, gallonsOf({ value: 1, unit: 'm3' }), 5e-4, '1,000 / 3.785411784'],
    ['1 kg, lb', 2.204623, lbOf({ value: 1, unit: 'kg' }), 5e-7, '1 / 0.45359237'],
    ['18.9 L, gal', 5, gallonsOf({ value: 18.9, unit: 'L' }), 0.013, 'NSF/ANSI 44 in metric, by US DOE/PNNL'],
    ['64.8 g, gr', 1_000, grainsOf({ value: 64.8, unit: 'g' }), 0.8, 'NSF/ANSI 44 in metric, by US DOE/PNNL'],
  ])('%s: %d', (_, want, got, within) => {
    expect(Math.abs(got - want)).toBeLessThanOrEqual(within);
  });

  it('are refused for a code that no schema lets through', () => {
    expect(() => gallonsOf({ value: 1, unit: '[gal_br]' })).toThrow(RangeError);
  });
});
