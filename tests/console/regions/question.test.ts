import fc from 'fast-check';
import { expect, test } from 'vitest';
import { doseOf, doseRange, shownDose } from '../../../console/regions/whatIf/question.ts';
import { DOSE_RANGE } from '../../../lib/advice/region/imagined.ts';

test('every dose that the form takes is one that the service takes, in both units', () => {
  const units = fc.constantFrom('us' as const, 'metric' as const);
  fc.assert(
    fc.property(units, fc.double({ min: 0, max: 1, noNaN: true }), (liked, share) => {
      const { least, most } = doseRange({ units: liked });
      const shown = least + share * (most - least);
      const dose = doseOf(shown, { units: liked });
      expect(dose).toBeGreaterThanOrEqual(DOSE_RANGE.least);
      expect(dose).toBeLessThanOrEqual(DOSE_RANGE.most);
      expect(shownDose(dose, { units: liked })).toBeCloseTo(shown, 9);
    }),
  );
});

test('a pound a cubic foot is 16.0185 g/L (NIST SP 811, appendix B: 1.601 846 E+01 kg/m3)', () => {
  expect(shownDose(1, { units: 'metric' })).toBeCloseTo(16.01846, 4);
});
