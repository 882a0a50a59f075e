import { useQuery } from '@tanstack/react-query';
import { useMemo } from 'react';
import { peopleQuery, visitsQuery } from '../api/queries.ts';
import type { PlannedVisit } from '../api/types.ts';
import { useServiceNow } from '../api/useServiceNow.ts';
import { dateAt, day, daysLater } from '../show/dates.ts';
import { useLikings } from '../show/Likings.tsx';

/** How far ahead the list looks for visits. */
const DAYS_AHEAD = 60;

/** A visit with the name of whoever goes there, as far as it is known, and its day in words. */
export type NamedVisit = PlannedVisit & { readonly technicianName: string; readonly day: string };

/** The next planned visit of each unit that has one. */
export function usePlanned(): ReadonlyMap<string, NamedVisit> {
  const { locale } = useLikings();
  // Yesterday in UTC: somewhere it is still that day.
  const from = daysLater(dateAt(useServiceNow(), 'UTC'), -1);
  const { data: visits } = useQuery(visitsQuery(from, daysLater(from, DAYS_AHEAD)));
  const { data: people } = useQuery(peopleQuery);
  return useMemo(() => {
    const names = new Map(people?.map(({ personId, name }) => [personId, name]));
    const next = new Map<string, NamedVisit>();
    for (const visit of visits ?? []) {
      const technicianName = names.get(visit.technician) ?? visit.technician;
      const named = { ...visit, technicianName, day: day(visit.date, locale) };
      if (!next.has(visit.unitId)) next.set(visit.unitId, named);
    }
    return next;
  }, [visits, people, locale]);
}
