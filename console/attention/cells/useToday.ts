import { useServiceNow } from '../../api/useServiceNow.ts';
import { dateAt } from '../../show/dates.ts';

/** The date at a site now, `YYYY-MM-DD`, by the service's clock. */
export function useToday(timeZone: string): string {
  return dateAt(useServiceNow(), timeZone);
}
