import type { PlannedVisit } from '../api/types.ts';

export interface VisitDay {
  readonly date: string;
  readonly isOver: boolean;
  readonly visits: readonly PlannedVisit[];
}

/** Visits by their day, today's and those to come first, then those that nobody has reported. */
export function byDay(visits: readonly PlannedVisit[], today: string): readonly VisitDay[] {
  const dates = [...new Set(visits.map(({ date }) => date))].sort();
  const days = dates.map((date) => ({
    date,
    isOver: date < today,
    visits: visits.filter((visit) => visit.date === date),
  }));
  return [...days.filter(({ isOver }) => !isOver), ...days.filter(({ isOver }) => isOver).toReversed()];
}
