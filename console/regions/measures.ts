import type { Estimate } from '../../lib/estimate/estimate.ts';
import { type QuantityName, unitOf } from '../show/amounts.ts';
import type { Likings } from '../show/Likings.tsx';
import { partWords, shownEstimate } from './intervals.ts';
import { type PartOf, type PartWords, saltParts } from './shares.ts';
import type { RegionMonth } from './toldMonths.ts';

/** What makes up a figure by how it is known, and what the parts are called: short in a sentence, and in full. */
export interface KnownBy {
  readonly parts: (account: RegionMonth) => readonly PartOf[];
  readonly short: PartWords;
  readonly full: PartWords;
}

/** What a region's months are looked at for. */
export interface Measure {
  readonly label: string;
  /** What it is and how it comes about, in a sentence. */
  readonly about: string;
  readonly quantity: QuantityName;
  /** In US units, with the interval where one was worked out; null where there is nothing to divide by. */
  readonly estimate: (account: RegionMonth) => Estimate | null;
  readonly known: KnownBy;
  /** What is said beside the value. */
  readonly aside?: (account: RegionMonth, likings: Likings) => string;
  /** A ratio is the same of a day and of a month, of one unit and of many, and is not split into parts. */
  readonly isRatio?: boolean;
}

const NOT_REPORTED = 'Estimated for days without a report';

const BY_SALT: KnownBy = {
  parts: saltParts,
  short: { known: 'measured', inferred: 'inferred', estimated: 'estimated' },
  full: { known: 'Measured by level sensors', inferred: 'Inferred from the dose', estimated: NOT_REPORTED },
};

const BY_METER: KnownBy = {
  parts: ({ treatedGallons, imputedGallons }) => [
    { part: 'known', value: treatedGallons },
    { part: 'estimated', value: imputedGallons },
  ],
  short: { known: 'metered', estimated: 'estimated' },
  full: { known: 'Metered', estimated: NOT_REPORTED },
};

const BY_METER_OR_FIGURE: KnownBy = {
  parts: ({ regenerationGallons, inferredRegenerationGallons }) => [
    { part: 'known', value: regenerationGallons },
    { part: 'inferred', value: inferredRegenerationGallons },
  ],
  short: { known: 'metered', inferred: 'inferred' },
  full: { known: 'Metered', inferred: 'Inferred from the published figure' },
};

export const MEASURES = {
  salt: {
    label: 'Salt',
    about:
      'Salt that regenerations used: measured by the tank’s level before and after, inferred from the dose elsewhere, estimated for days without a report.',
    quantity: 'lb',
    estimate: ({ saltLb }) => saltLb,
    known: BY_SALT,
  },
  chloride: {
    label: 'Chloride',
    about: 'Chloride that the salt brings into the drain: it is worked out from the salt.',
    quantity: 'lb',
    estimate: ({ chlorideLb }) => chlorideLb,
    known: BY_SALT,
  },
  sodium: {
    label: 'Sodium',
    about: 'Sodium that the salt brings: a part leaves with the softened water, the rest with the brine.',
    quantity: 'lb',
    estimate: ({ sodiumLb }) => sodiumLb,
    known: BY_SALT,
    aside: ({ sodiumInWaterLb }, likings) =>
      `${partWords(sodiumInWaterLb, 'lb', likings)} ${unitOf('lb', likings)} of it with the softened water`,
  },
  efficiency: {
    label: 'Efficiency',
    about: 'Hardness taken out for each weight of salt: more is better.',
    quantity: 'grainsPerLb',
    estimate: ({ grainsPerLb }) => grainsPerLb,
    known: BY_SALT,
    isRatio: true,
  },
  'regeneration-water': {
    label: 'Regeneration water',
    about:
      'Water that regenerations sent to the drain: as metered, and by the published figure for controls that do not say and for days without a report.',
    quantity: 'bulkGallons',
    estimate: ({ regenerationGallons, inferredRegenerationGallons }) =>
      withoutBounds(regenerationGallons + inferredRegenerationGallons),
    known: BY_METER_OR_FIGURE,
  },
  water: {
    label: 'Water treated',
    about: 'Water that went through the softeners: as metered, and as expected on days without a report.',
    quantity: 'bulkGallons',
    estimate: ({ waterGallons }) => waterGallons,
    known: BY_METER,
  },
} as const satisfies Record<string, Measure>;

export type MeasureName = keyof typeof MEASURES;

/** Of all units as they are, or as much as one of them does a day: so that large and small regions, short and long months compare. */
export type Per = 'all' | 'unit-day';

/** The estimate in the units that are liked; null where there is nothing to tell. */
export function shownOf(account: RegionMonth, measure: Measure, per: Per, likings: Likings): Estimate | null {
  const told = measure.estimate(account);
  if (!told) return null;
  if (per === 'all' || measure.isRatio) return shownEstimate(told, measure.quantity, likings);
  const days = account.daysCounted + account.daysImputed;
  const { value, low, high } = told;
  return days > 0
    ? shownEstimate(
        { value: value / days, low: low / days, high: high / days },
        quantityOf(measure, per),
        likings,
      )
    : null;
}

/** Such as `lb` or `lb a unit and day`. */
export function unitWords(measure: Measure, per: Per, likings: Likings): string {
  const unit = unitOf(quantityOf(measure, per), likings);
  return per === 'all' || measure.isRatio ? unit : `${unit} a unit and day`;
}

/** What one unit treats in a day is no bulk. */
function quantityOf({ quantity }: Measure, per: Per): QuantityName {
  return per === 'unit-day' && quantity === 'bulkGallons' ? 'gallons' : quantity;
}

function withoutBounds(value: number): Estimate {
  return { value, low: value, high: value };
}
