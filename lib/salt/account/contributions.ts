import { isReported } from '../monthAccount.ts';
import type { UnitMonth } from '../unitMonths.ts';
import { WASTE_CAUSES, type WasteCause } from '../waste.ts';

/** Who makes up a figure of a region's month. */
export interface Contribution {
  /** Units that have a part in it, and of those the ones that have one in another region of the same month, too. */
  readonly units: number;
  readonly movers: number;
  /** Sum of the parts, each without its sign, and the largest two of them; the largest of the movers’. */
  readonly total: number;
  readonly largest: number;
  readonly second: number;
  readonly largestOfMovers: number;
}

export const NO_CONTRIBUTION: Contribution = {
  ...{ units: 0, movers: 0, total: 0, largest: 0, second: 0, largestOfMovers: 0 },
};

/** What a unit has in each figure that is looked at. */
const PARTS = {
  reporting: (unit: UnitMonth) => (isReported(unit) && unit.daysCounted > 0 ? 1 : 0),
  water: (unit: UnitMonth) => unit.treatedGallons + unit.imputedGallons,
  meteredWater: (unit: UnitMonth) => unit.treatedGallons,
  imputedWater: (unit: UnitMonth) => unit.imputedGallons,
  salt: (unit: UnitMonth) => unit.measuredSaltLb + unit.inferredSaltLb + unit.imputedSaltLb,
  measuredSalt: (unit: UnitMonth) => unit.measuredSaltLb,
  otherSalt: (unit: UnitMonth) => unit.inferredSaltLb + unit.imputedSaltLb,
  inferredSalt: (unit: UnitMonth) => unit.inferredSaltLb,
  imputedSalt: (unit: UnitMonth) => unit.imputedSaltLb,
  grains: (unit: UnitMonth) => unit.grainsRemoved,
  imputedGrains: (unit: UnitMonth) => unit.imputedGrains,
  regenerationWater: (unit: UnitMonth) => unit.regenerationGallons,
  inferredRegenerationWater: (unit: UnitMonth) => unit.inferredRegenerationGallons,
  delivered: (unit: UnitMonth) => unit.deliveredSaltLb,
  hardWater: (unit: UnitMonth) => unit.hardGallons,
} as const satisfies Record<string, (unit: UnitMonth) => number>;

export type Part = keyof typeof PARTS | `wasted-${WasteCause}`;

const READERS: readonly (readonly [Part, (unit: UnitMonth) => number])[] = [
  ...Object.entries(PARTS).map(([part, read]) => [part as keyof typeof PARTS, read] as const),
  ...WASTE_CAUSES.map(
    (cause) => [`wasted-${cause}` as const, (unit: UnitMonth) => unit.wasted[cause] ?? 0] as const,
  ),
];

/** Of a region's month, who makes up each figure. */
export type Contributions = ReadonlyMap<Part, Contribution>;

/** Who makes up the figures of regions, counted unit by unit. */
export class RegionContributions {
  readonly #cells = new Map<string, Map<Part, Contribution>>();

  /** Adds the months of one unit. */
  add(months: readonly UnitMonth[]) {
    const regions = new Map<string, number>();
    for (const { month } of months) regions.set(month, (regions.get(month) ?? 0) + 1);
    for (const unit of months) {
      const key = keyOf(unit);
      const cell = this.#cells.get(key) ?? new Map<Part, Contribution>();
      this.#cells.set(key, cell);
      const isMover = (regions.get(unit.month) ?? 0) > 1;
      for (const [part, read] of READERS) {
        const value = Math.abs(read(unit));
        if (value > 0) cell.set(part, withPart(cell.get(part) ?? NO_CONTRIBUTION, value, isMover));
      }
    }
  }

  /** Of one region's month. */
  of(cell: Pick<UnitMonth, 'region' | 'month'>): Contributions {
    return this.#cells.get(keyOf(cell)) ?? new Map();
  }
}

function keyOf({ region, month }: Pick<UnitMonth, 'region' | 'month'>): string {
  return `${region} ${month}`;
}

function withPart(before: Contribution, value: number, isMover: boolean): Contribution {
  return {
    units: before.units + 1,
    movers: before.movers + (isMover ? 1 : 0),
    total: before.total + value,
    largest: Math.max(before.largest, value),
    second: Math.max(before.second, Math.min(before.largest, value)),
    largestOfMovers: isMover ? Math.max(before.largestOfMovers, value) : before.largestOfMovers,
  };
}

/**
 * Regions taken together, as if they were one. Of a unit that has a part in two of them it is not known which two parts
 * are its own, so the worst is taken: all movers are left out of the count, and the largest parts of movers are one unit’s.
 */
export function together(contributions: readonly Contribution[]): Contribution {
  if (contributions.length === 1) return contributions[0] ?? NO_CONTRIBUTION;
  const sum = (of: (each: Contribution) => number) =>
    contributions.reduce((total, each) => total + of(each), 0);
  const movers = sum((each) => each.movers);
  const largestOfMovers = sum((each) => each.largestOfMovers);
  const [largest = 0, second = 0] = contributions
    .flatMap((each) => [each.largest, each.second])
    .concat(largestOfMovers)
    .sort((a, b) => b - a);
  return {
    ...{ units: sum(({ units }) => units) - movers, movers: 0, total: sum(({ total }) => total) },
    ...{ largest, second, largestOfMovers },
  };
}
