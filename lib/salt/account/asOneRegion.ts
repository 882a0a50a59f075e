import type { KnownMonths } from '../knownMonths.ts';

/** What the region is called; nobody reads it. */
const ALL = 'all';

/** A unit's months as if all regions were one: a unit that moved from one to another stayed where it was. */
export function asOneRegion({ unit, months, firstDate }: KnownMonths): KnownMonths {
  return {
    unit: { ...unit, region: ALL, formerRegions: [] },
    months: months.map((account) => ({ ...account, region: ALL })),
    firstDate,
  };
}
