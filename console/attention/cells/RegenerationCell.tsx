import { day, daysBetween } from '../../show/dates.ts';
import { useLikings } from '../../show/Likings.tsx';
import { days } from '../../show/words.ts';
import type { Row } from '../rows.ts';
import { Reading } from './Reading.tsx';
import { useToday } from './useToday.ts';

const LABEL = 'Regenerates next';

export function RegenerationCell({ row: { nextRegeneration, timeZone } }: { row: Row }) {
  const { locale } = useLikings();
  const today = useToday(timeZone);
  if (nextRegeneration === null) return <Reading label={LABEL} value="Not in sight" />;
  const ahead = daysBetween(today, nextRegeneration);
  const note = ahead > 0 ? `in ${days(ahead)}` : ahead === 0 ? 'today' : `due ${days(-ahead)} ago`;
  return <Reading label={LABEL} value={day(nextRegeneration, locale, today)} note={note} bad={ahead < -1} />;
}
