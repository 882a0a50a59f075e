import { day, daysBetween } from '../../show/dates.ts';
import { useLikings } from '../../show/Likings.tsx';
import { days } from '../../show/words.ts';
import type { Row } from '../rows.ts';
import { Reading } from './Reading.tsx';
import { useToday } from './useToday.ts';

/** So few days of salt are told as bad. A guess, no source. */
const FEW_DAYS = 7;

export function SaltCell({ row: { saltRunsOut, timeZone } }: { row: Row }) {
  const { locale } = useLikings();
  const today = useToday(timeZone);
  if (saltRunsOut === null) return <Reading label="Salt lasts" value="Not known" />;
  const left = daysBetween(today, saltRunsOut);
  if (left <= 0)
    return <Reading label="Salt lasts" value="Out" note={`since ${day(saltRunsOut, locale, today)}`} bad />;
  return (
    <Reading
      label="Salt lasts"
      value={days(left)}
      note={`to ${day(saltRunsOut, locale, today)}`}
      bad={left <= FEW_DAYS}
    />
  );
}
