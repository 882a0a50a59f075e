import fc from 'fast-check';
import type { KnownMonths } from '../../lib/salt/knownMonths.ts';
import { type MonthAccount, newMonth } from '../../lib/salt/monthAccount.ts';
import { localDateOf } from '../../shared/time/localDate.ts';
import { zoneOf } from './events.ts';

/** The first of the months that are made up here; Phoenix keeps no summer time. */
export const FIRST = localDateOf(2026, 1, 1) ?? 0;
const zone = zoneOf('America/Phoenix');

/** The end of the month that is so many months after the first, as an instant. */
export function endOfMonth(months: number): number {
  return zone.startOf(localDateOf(2026 + Math.floor((months + 1) / 12), ((months + 1) % 12) + 1, 1) ?? 0);
}

/** Accounts of a made-up unit: each of so many months after the first, with what is given of it. */
export function knownUnit(
  unit: Partial<KnownMonths['unit']>,
  months: readonly (Partial<MonthAccount> & { after?: number })[],
): KnownMonths {
  const registered = {
    ...{ unitId: 'u-1', region: 'alder-county', formerRegions: [], zone },
    ...{ resinCubicFeet: 1, installedOn: FIRST, alternating: false },
    ...unit,
  };
  return {
    unit: registered,
    months: months.map(({ after = 0, ...given }) => {
      const date = localDateOf(2026 + Math.floor(after / 12), (after % 12) + 1, 1) ?? 0;
      return { ...newMonth(date, registered), saltDoseLb: 8, ...given };
    }),
    firstDate: FIRST,
  };
}

const amount = (max: number) => fc.double({ min: 0, max, noNaN: true });

/** What may stand in a month's account, the odd and the extreme included. */
export const anyMonth: fc.Arbitrary<Partial<MonthAccount>> = fc.record({
  saltDoseLb: fc.oneof(fc.constant(null), fc.constant(0), amount(100)),
  daysCounted: fc.nat(31),
  daysImputed: fc.nat(31),
  regenerations: fc.nat(40),
  regenerationsImputed: amount(40),
  treatedGallons: amount(1e6),
  imputedGallons: fc.oneof(fc.constant(0), amount(1e5)),
  imputedGallonsVariance: amount(1e8),
  hardGallons: amount(1e4),
  hardDays: fc.nat(31),
  // Noise makes a sum of next to nothing negative.
  measuredSaltLb: fc.double({ min: -60, max: 500, noNaN: true }),
  measuredVariance: amount(500),
  measuredDoseLb: fc.oneof(fc.constant(0), amount(500)),
  inferredSaltLb: fc.oneof(fc.constant(0), amount(500)),
  imputedSaltLb: fc.oneof(fc.constant(0), amount(500)),
  imputedSaltVariance: amount(1e5),
  deliveredSaltLb: amount(400),
  regenerationGallons: amount(5000),
  inferredRegenerationGallons: amount(5000),
  grainsRemoved: fc.oneof(fc.constant(0), amount(1e8)),
  imputedGrains: fc.oneof(fc.constant(0), amount(1e7)),
});

/** A made-up company: units of three regions, with none to four months each. */
export const anyCompany: fc.Arbitrary<KnownMonths[]> = fc.array(
  fc
    .record({
      region: fc.constantFrom('alder-county', 'copper-flats', 'prairie-west'),
      resinCubicFeet: fc.double({ min: 0.5, max: 3, noNaN: true }),
      alternating: fc.boolean(),
      months: fc.array(anyMonth, { maxLength: 4 }),
    })
    .map(({ months, ...unit }) =>
      knownUnit(
        unit,
        months.map((month, after) => ({ ...month, after })),
      ),
    ),
  { maxLength: 12 },
);
