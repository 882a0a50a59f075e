import { formatLocalDate, type LocalDate } from '../../shared/time/localDate.ts';
import type { Story } from '../unit/story.ts';
import type { Brief } from './briefSchema.ts';

/** So many local days are shown: some weeks before most alerts, and what came of them. */
export const CHART_DAYS = 45;

/** The last days of a unit's story, up to `to`. A day that was not reported is left out. */
export function chartData({ days, regenerations }: Story, to: LocalDate): Brief['chart'] {
  const from = to - CHART_DAYS + 1;
  const isShown = ({ date }: { date: LocalDate }) => date >= from && date <= to;
  return {
    from: formatLocalDate(from),
    to: formatLocalDate(to),
    days: days.filter(isShown).map(({ date, gallons, remainingGallons, believedGallons, isHard }) => ({
      date: formatLocalDate(date),
      gallons,
      remainingGallons,
      believedGallons,
      isHard,
    })),
    regenerations: regenerations
      .filter(isShown)
      .map(({ date, drewSalt }) => ({ date: formatLocalDate(date), drewSalt })),
  };
}
