import { dateAt, day, daysBetween } from '../../show/dates.ts';
import { useLikings } from '../../show/Likings.tsx';
import { CAUSE_WORDS, days, KIND_WORDS } from '../../show/words.ts';
import type { Row } from '../rows.ts';
import styles from './cells.module.css';
import { Handling } from './Handling.tsx';
import { useToday } from './useToday.ts';

/** What is wrong in a few words and in a sentence, since when, and what somebody did about it. */
export function WrongCell({ row }: { row: Row }) {
  const { kind, cause, sentence, since, timeZone, otherAlerts } = row;
  const { locale } = useLikings();
  const today = useToday(timeZone);
  const sinceDate = dateAt(Date.parse(since), timeZone);
  const ago = daysBetween(sinceDate, today);
  return (
    <>
      <span>
        <span className={styles.kind}>
          {KIND_WORDS[kind]}
          {cause && `: ${CAUSE_WORDS[cause]}`}
        </span>{' '}
        <span className="soft small">
          since {day(sinceDate, locale, today)}
          {ago > 0 ? ` (${days(ago)})` : ' (today)'}
        </span>
      </span>
      <span className={styles.sentence}>{sentence}</span>
      {otherAlerts > 0 && (
        <span className="soft small">
          And {otherAlerts} more {otherAlerts === 1 ? 'alert' : 'alerts'} of this unit
        </span>
      )}
      <Handling row={row} />
    </>
  );
}
