import fc from 'fast-check';
import { expect, test } from 'vitest';
import { idSchema } from '../../shared/ids.ts';
import { ThingNameError, thingNameOf, unitOfThing } from '../../shared/thingName.ts';
import { anyId } from '../support/ids.ts';

/** docs.aws.amazon.com/iot/latest/apireference/API_ThingAttribute.html, thingName. */
const PATTERN = /^[a-zA-Z0-9:_-]{1,128}$/;

const anyUnit = fc.record({ companyId: anyId, unitId: anyId });

/** The name, or the code of the error. */
function named(unit: { companyId: string; unitId: string }) {
  try {
    return { name: thingNameOf(unit) };
  } catch (error) {
    if (error instanceof ThingNameError) return { code: error.code, advice: error.advice };
    throw error;
  }
}

test('every unit has a name that AWS takes and that leads back to it, or is told to shorten its id', () => {
  fc.assert(
    fc.property(anyUnit, (unit) => {
      const { name, code, advice } = named(unit);
      if (name === undefined) {
        expect(code).toBe('name-too-long');
        expect(advice).toMatch(/shorter/);
        const dots = [...`${unit.companyId}${unit.unitId}`].filter((each) => each === '.').length;
        expect(unit.companyId.length + 1 + unit.unitId.length + dots).toBeGreaterThan(128);
        return;
      }
      expect(name).toMatch(PATTERN);
      expect(unitOfThing(name)).toEqual(unit);
    }),
    { numRuns: 500 },
  );
});

test('no two units share a name', () => {
  // Few letters, so that pairs that might be mistaken for each other come up: a.b with c, a with b.c and the like.
  const few = fc
    .string({ unit: fc.constantFrom('a', '0', '.', '-', '_'), minLength: 1, maxLength: 5 })
    .filter((text) => idSchema.safeParse(text).success);
  const unit = fc.record({ companyId: few, unitId: few });
  fc.assert(
    fc.property(unit, unit, (one, other) => {
      const same = one.companyId === other.companyId && one.unitId === other.unitId;
      expect(thingNameOf(one) === thingNameOf(other)).toBe(same);
    }),
    { numRuns: 1000 },
  );
});

test('a name that no unit has leads nowhere', () => {
  const text = fc.string({
    unit: fc.constantFrom('a', 'Z', '9', ':', '-', '_', '.', '/', '#', 'é'),
    maxLength: 9,
  });
  fc.assert(
    fc.property(text, (name) => {
      try {
        expect(thingNameOf(unitOfThing(name))).toBe(name);
      } catch (error) {
        expect(error).toMatchObject({ code: 'no-name' });
      }
    }),
    { numRuns: 1000 },
  );
  for (const name of ['', 'n/a', 'acme', 'acme:', ':u-1', 'acme::u-1', 'acme:-u-1', 'a:b:c', 'acme.de:u-1']) {
    expect(() => unitOfThing(name), name).toThrow(ThingNameError);
  }
  expect(() => thingNameOf({ companyId: 'acme', unitId: '-u' })).toThrow(ThingNameError);
});
