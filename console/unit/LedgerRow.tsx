import { SALT_SAID_WORDS, saltSaid } from '../figures/saltSaid.ts';
import { convert, whole } from '../show/amounts.ts';
import { day as dayInWords } from '../show/dates.ts';
import { useLikings } from '../show/Likings.tsx';
import styles from './Ledger.module.css';
import { saltWords } from './saltWords.ts';
import type { Timeline, TimelineDay } from './timeline.ts';

const TRIGGERS = {
  metered: 'by the meter',
  manual: 'by hand',
  override: 'by the calendar',
  unknown: 'cause unknown',
} as const;

interface LedgerRowProps {
  readonly day: TimelineDay;
  readonly timeline: Timeline;
  readonly index: number;
}

export function LedgerRow({ day, timeline: { today }, index }: LedgerRowProps) {
  const likings = useLikings();
  const { date, report, regenerations } = day;
  const volume = (gallons: number | null | undefined) =>
    gallons === null || gallons === undefined ? '–' : whole(convert(gallons, 'gallons', likings), likings);
  return (
    <tr aria-rowindex={index} data-hard={report?.isHard === true}>
      <th scope="row">
        {dayInWords(date, likings.locale, today)}
        {report?.isHard && <span className={styles.hard}> hard</span>}
      </th>
      {report ? (
        <>
          <td className={styles.number}>{volume(report.gallons)}</td>
          <td className={styles.number}>{volume(report.remainingGallons)}</td>
          <td className={styles.number}>{volume(report.believedGallons)}</td>
        </>
      ) : (
        <td colSpan={3} className={styles.missing}>
          {day.isAhead ? 'not in yet' : 'no report'}
        </td>
      )}
      <td>{regenerations.map(({ trigger }) => TRIGGERS[trigger]).join(', ')}</td>
      <td>
        {regenerations
          .map((each) => `${saltWords(each, likings)} (${SALT_SAID_WORDS[saltSaid(each)]})`)
          .join('; ')}
      </td>
    </tr>
  );
}
