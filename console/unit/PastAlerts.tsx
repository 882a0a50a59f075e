import { dateAt, day, daysBetween } from '../show/dates.ts';
import { useLikings } from '../show/Likings.tsx';
import { Severity } from '../show/Severity.tsx';
import { days, KIND_WORDS } from '../show/words.ts';
import styles from './Alerts.module.css';
import type { Alert, Story } from './types.ts';

interface PastAlertsProps {
  readonly story: Story;
  readonly past: readonly Alert[];
  readonly markedId: string | undefined;
  readonly today: string;
}

/** Alerts that are over, the latest first; open where the address names one of them. */
export function PastAlerts({ story, past, markedId, today }: PastAlertsProps) {
  const { locale } = useLikings();
  const { timeZone } = story.unit;
  const date = (instant: string) => dateAt(Date.parse(instant), timeZone);
  return (
    <details className={styles.past} open={past.some(({ alertId }) => alertId === markedId)}>
      <summary>{past.length === 1 ? '1 alert that is over' : `${past.length} alerts that are over`}</summary>
      <ul>
        {past.map((alert) => {
          const from = date(alert.raisedAt);
          const to = date(alert.clearedAt ?? alert.raisedAt);
          return (
            <li key={alert.alertId} data-marked={alert.alertId === markedId} className={styles.over}>
              <Severity level={alert.severity} /> <strong>{KIND_WORDS[alert.kind]}</strong>,{' '}
              {day(from, locale, today)} to {day(to, locale, today)}{' '}
              <span className="soft">({days(Math.max(1, daysBetween(from, to)))})</span>
              {alert.alertId === markedId && <span className={styles.mark}> the alert you were sent to</span>}
              <br />
              <span className="soft">{alert.summary}</span>
            </li>
          );
        })}
      </ul>
    </details>
  );
}
