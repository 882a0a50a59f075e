import type { Unit } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';
import type { MonthAccount } from './monthAccount.ts';

/** What is known of a unit's months. */
export interface KnownMonths {
  readonly unit: Pick<
    Unit,
    'unitId' | 'region' | 'formerRegions' | 'zone' | 'resinCubicFeet' | 'installedOn' | 'alternating'
  >;
  /** By their local days; with an estimate of days without a report. */
  readonly months: readonly MonthAccount[];
  /** Until when it owes flow days, where that is over: it was taken out of service. */
  readonly owesUntil?: Instant | undefined;
  /** The first local day of which a flow day is expected; undefined before the first came. */
  readonly firstDate: LocalDate | undefined;
}
