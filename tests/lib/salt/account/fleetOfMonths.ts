import fc from 'fast-check';
import type { KnownMonths } from '../../../../lib/salt/knownMonths.ts';
import { type MonthAccount, newMonth } from '../../../../lib/salt/monthAccount.ts';
import { WASTE_CAUSES } from '../../../../lib/salt/waste.ts';
import { zoneOf } from '../../../support/events.ts';

/** 2026-03-01. */
export const MARCH = 20_513;
/** Long after it. */
export const LATER = Date.UTC(2026, 11, 1);

/** Nothing, something, or far more than others have. */
const amount = fc.oneof(
  { weight: 2, arbitrary: fc.constant(0) },
  { weight: 5, arbitrary: fc.integer({ min: 1, max: 100 }) },
  { weight: 1, arbitrary: fc.integer({ min: 200, max: 2_000 }) },
);
const most = { weight: 4, arbitrary: fc.integer({ min: 20, max: 100 }) };

const account = fc.record({
  daysCounted: fc.constantFrom(31, 31, 31, 20, 0),
  treatedGallons: fc.oneof(most, amount),
  imputedGallons: amount,
  measuredSaltLb: amount,
  inferredSaltLb: fc.oneof(most, amount),
  imputedSaltLb: amount,
  grainsRemoved: fc.oneof(most, amount),
  imputedGrains: amount,
  deliveredSaltLb: amount,
  hardGallons: amount,
  regenerationGallons: amount,
  inferredRegenerationGallons: amount,
  wasted: fc.record(Object.fromEntries(WASTE_CAUSES.map((cause) => [cause, amount]))),
});

const unit = fc.record({
  region: fc.nat(),
  movedFrom: fc.option(fc.nat(), { freq: 4 }),
  parts: fc.tuple(account, account),
});

/** Units of one company in March 2026, in a few regions; some have moved from one to another on the 15th. */
export const fleets: fc.Arbitrary<KnownMonths[]> = fc
  .record({
    regions: fc.integer({ min: 1, max: 6 }),
    units: fc.array(unit, { minLength: 1, maxLength: 80, size: 'max' }),
  })
  .map(({ regions, units }) =>
    units.map(({ region, movedFrom, parts }, index): KnownMonths => {
      const name = (number: number) => `r-${number % regions}`;
      const formerRegions = movedFrom === null ? [] : [{ region: name(movedFrom), until: MARCH + 14 }];
      const own = {
        ...{ unitId: `u-${index}`, region: name(region), formerRegions, zone: zoneOf('America/New_York') },
        ...{ resinCubicFeet: 1, installedOn: MARCH, alternating: false },
      };
      const starts = movedFrom === null ? [MARCH] : [MARCH, MARCH + 15];
      const months = starts.map((start, part): MonthAccount => ({ ...newMonth(start, own), ...parts[part] }));
      return { unit: own, months, firstDate: undefined };
    }),
  );
