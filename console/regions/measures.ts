import { convert, type QuantityName, unitOf } from '../show/amounts.ts';
import type { Likings } from '../show/Likings.tsx';
import type { MonthSum } from './months.ts';
import { dayShares, type Shares, saltShares } from './shares.ts';

/** What a region's months are looked at for. */
export interface Measure {
  readonly label: string;
  /** What it is and how it comes about, in a sentence. */
  readonly about: string;
  readonly quantity: QuantityName;
  /** In US units; null where there is nothing to divide by. */
  readonly value: (sum: MonthSum) => number | null;
  readonly shares: (sum: MonthSum) => Shares | undefined;
  /** A ratio is the same of a day and of a month, of one unit and of many. */
  readonly isRatio?: boolean;
}

export const MEASURES = {
  salt: {
    label: 'Salt',
    about:
      'Salt that regenerations used: measured by the tank’s level before and after, inferred from the dose elsewhere.',
    quantity: 'lb',
    value: saltOf,
    shares: saltShares,
  },
  chloride: {
    label: 'Chloride',
    about: 'Chloride that the salt brings into the drain: it is worked out from the salt.',
    quantity: 'lb',
    value: ({ chlorideLb }) => chlorideLb,
    shares: saltShares,
  },
  efficiency: {
    label: 'Efficiency',
    about: 'Hardness taken out for each weight of salt: more is better.',
    quantity: 'grainsPerLb',
    value: (sum) => (saltOf(sum) > 0 ? sum.grains / saltOf(sum) : null),
    shares: saltShares,
    isRatio: true,
  },
  'regeneration-water': {
    label: 'Regeneration water',
    about: 'Water that regenerations sent to the drain, as metered: nothing where a control does not say.',
    quantity: 'gallons',
    value: ({ regenerationGallons }) => regenerationGallons,
    shares: dayShares,
  },
  water: {
    label: 'Water treated',
    about: 'Water that went through the softeners, as metered.',
    quantity: 'gallons',
    value: ({ waterGallons }) => waterGallons,
    shares: dayShares,
  },
} as const satisfies Record<string, Measure>;

export type MeasureName = keyof typeof MEASURES;

/** Of all units as they are, or as much as one of them does a day: so that large and small regions, short and long months compare. */
export type Per = 'all' | 'unit-day';

/** The value in the units that are liked. */
export function shownValue(
  sum: MonthSum,
  { value, quantity, isRatio }: Measure,
  per: Per,
  likings: Likings,
): number | null {
  const told = value(sum);
  if (told === null) return null;
  if (per === 'all' || isRatio) return convert(told, quantity, likings);
  return sum.daysReported > 0 ? convert(told / sum.daysReported, quantity, likings) : null;
}

/** Such as `lb` or `lb a unit and day`. */
export function unitWords({ quantity, isRatio }: Measure, per: Per, likings: Likings): string {
  const unit = unitOf(quantity, likings);
  return per === 'all' || isRatio ? unit : `${unit} a unit and day`;
}

function saltOf({ saltMeasuredLb, saltInferredLb }: MonthSum): number {
  return saltMeasuredLb + saltInferredLb;
}
