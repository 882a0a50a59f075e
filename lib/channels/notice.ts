import type { Transition } from '../live/transitions.ts';
import type { Company } from '../store/company.ts';

/** A change of an alert as people are told of it. */
export interface Notice extends Transition {
  readonly company: Pick<Company, 'companyId' | 'name'>;
  readonly unitId: string;
  /** Grows with each notice of a unit: of two that overtook each other, the one with the greater stands. */
  readonly sequence: number;
  /** Of the unit's registry record; unknown once that is gone. */
  readonly siteId: string | undefined;
  readonly region: string | undefined;
  /** Where the alert can be looked at. */
  readonly link: string;
}

/**
 * The page of an alert.
 *
 * @param baseUrl where the console stands
 */
export function linkTo(baseUrl: URL, unitId: string, alertId: string): string {
  const base = baseUrl.href.endsWith('/') ? baseUrl.href : `${baseUrl.href}/`;
  return `${base}units/${encodeURIComponent(unitId)}/alerts/${encodeURIComponent(alertId)}`;
}
