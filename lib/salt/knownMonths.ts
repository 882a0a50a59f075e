import type { Unit } from '../../shared/registry.ts';
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
  /** The first local day of which a flow day is expected; undefined before the first came. */
  readonly firstDate: LocalDate | undefined;
}
