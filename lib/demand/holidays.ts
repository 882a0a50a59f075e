import { type LocalDate, parseLocalDate } from '../../shared/time/localDate.ts';
import type { DemandRules } from './demandRules.ts';

/** The holidays of a region, in order. */
export function holidaysOf({ holidays }: DemandRules, region: string): LocalDate[] {
  const dates = (holidays[region] ?? []).flatMap((text) => parseLocalDate(text) ?? []);
  return dates.sort((a, b) => a - b);
}
