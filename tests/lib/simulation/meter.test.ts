import fc from 'fast-check';
import { expect, test } from 'vitest';
import { Chance } from '../../../lib/simulation/chance.ts';
import { flowOfDay } from '../../../lib/simulation/meter.ts';

test('a day of flow is possible, and a day of none has none', () => {
  const gallons = fc.oneof(fc.constant(0), fc.double({ min: 0.01, max: 3000, noNaN: true }));
  fc.assert(
    fc.property(
      gallons,
      fc.double({ min: 0.3, max: 1, noNaN: true }),
      fc.nat(),
      (counted, registered, seed) => {
        const flow = flowOfDay(counted, registered, 6, new Chance(seed));
        const { peakGpm, flowHours, longestFlowMinutes } = flow;
        if (counted === 0) {
          expect(flow).toEqual({ peakGpm: 0, flowHours: 0, longestFlowMinutes: 0 });
          return;
        }
        expect(peakGpm).toBeGreaterThan(0);
        expect(flowHours).toBeGreaterThanOrEqual(1);
        expect(flowHours).toBeLessThanOrEqual(24);
        expect(longestFlowMinutes).toBeLessThanOrEqual(24 * 60);
      },
    ),
  );
});

test('flow is spread over as many hours as in a real house', () => {
  const days = 2000;
  const chance = new Chance(1);
  // fixtures/ampds2-house: 31.5 % of hours without flow, at 700 L (185 gallons) a day.
  const total = Array.from({ length: days }, () => flowOfDay(185, 1, 6, chance).flowHours).reduce(
    (a, b) => a + b,
  );
  expect(Math.abs(total / days - 24 * (1 - 0.315))).toBeLessThan(0.5);
});
