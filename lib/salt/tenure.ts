import type { Unit } from '../../shared/registry.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';

/** Of a unit, what tells which region it was counted in. */
export type Regional = Pick<Unit, 'region' | 'formerRegions'>;

/** A region that a unit is counted in, and the local days of that: `from` is in it, `until` is not. */
export interface Tenure {
  readonly region: string;
  readonly from: LocalDate;
  readonly until: LocalDate;
}

/** The region that a unit was counted in on a local day. */
export function tenureAt({ region, formerRegions }: Regional, date: LocalDate): Tenure {
  let from = Number.NEGATIVE_INFINITY;
  for (const former of formerRegions) {
    if (date <= former.until) return { region: former.region, from, until: former.until + 1 };
    from = former.until + 1;
  }
  return { region, from, until: Number.POSITIVE_INFINITY };
}

/** The stretches of a span of local days, both ends in it, that a unit was counted in one region. */
export function tenuresWithin(
  unit: Regional,
  { first, last }: { first: LocalDate; last: LocalDate },
): { region: string; first: LocalDate; last: LocalDate }[] {
  const stretches = [];
  for (let date = first; date <= last; ) {
    const { region, until } = tenureAt(unit, date);
    const end = Math.min(last, until - 1);
    stretches.push({ region, first: date, last: end });
    date = end + 1;
  }
  return stretches;
}
