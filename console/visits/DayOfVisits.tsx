import { day as dayInWords, daysBetween } from '../show/dates.ts';
import { useLikings } from '../show/Likings.tsx';
import { days } from '../show/words.ts';
import type { VisitDay } from './byDay.ts';
import { VisitCard } from './VisitCard.tsx';
import styles from './VisitsPage.module.css';

interface DayOfVisitsProps {
  readonly day: VisitDay;
  readonly today: string;
  /** Names whoever goes there; undefined where it is whoever looks. */
  readonly nameOf: ((personId: string) => string) | undefined;
}

export function DayOfVisits({ day: { date, isOver, visits }, today, nameOf }: DayOfVisitsProps) {
  const { locale } = useLikings();
  const id = `day-${date}`;
  const weekday = new Intl.DateTimeFormat(locale, { weekday: 'long', timeZone: 'UTC' }).format(
    Date.parse(date),
  );
  const ahead = daysBetween(today, date);
  const when =
    ahead === 0
      ? 'Today'
      : ahead === 1
        ? 'Tomorrow'
        : ahead > 1
          ? `in ${days(ahead)}`
          : `${days(-ahead)} ago`;
  return (
    <section aria-labelledby={id} className={styles.day}>
      <h2 id={id}>
        {ahead === 0 || ahead === 1 ? `${when}, ` : ''}
        {weekday} {dayInWords(date, locale, today)}{' '}
        {ahead !== 0 && ahead !== 1 && <span className="soft small">{when}</span>}
      </h2>
      {isOver && (
        <p className={styles.over}>No report has come of {visits.length === 1 ? 'this one' : 'these'} yet.</p>
      )}
      <ul className={styles.cards}>
        {visits.map((visit) => (
          <VisitCard key={visit.visitId} visit={visit} name={nameOf?.(visit.technician)} />
        ))}
      </ul>
    </section>
  );
}
