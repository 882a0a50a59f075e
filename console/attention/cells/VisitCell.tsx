import { day } from '../../show/dates.ts';
import { useLikings } from '../../show/Likings.tsx';
import { useNextVisit } from '../Planned.ts';
import type { Row } from '../rows.ts';
import { Reading } from './Reading.tsx';
import { useToday } from './useToday.ts';

export function VisitCell({ row: { unitId, timeZone } }: { row: Row }) {
  const { locale } = useLikings();
  const today = useToday(timeZone);
  const visit = useNextVisit(unitId);
  if (!visit) return <Reading label="Visit" value="None planned" />;
  return <Reading label="Visit" value={day(visit.date, locale, today)} note={visit.technicianName} />;
}
