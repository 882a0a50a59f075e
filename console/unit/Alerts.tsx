import { AlertCard } from './AlertCard.tsx';
import styles from './Alerts.module.css';
import { PastAlerts } from './PastAlerts.tsx';
import { openAlerts } from './targetOf.ts';
import type { Story } from './types.ts';

interface AlertsProps {
  readonly story: Story;
  /** The alert that the address names. */
  readonly markedId: string | undefined;
  readonly today: string;
}

/** What is wrong with the unit now, the most severe first; what was, folded away. */
export function Alerts({ story, markedId, today }: AlertsProps) {
  const open = openAlerts(story.alerts);
  const past = story.alerts
    .filter(({ clearedAt }) => clearedAt !== null)
    .toSorted((a, b) => Date.parse(b.raisedAt) - Date.parse(a.raisedAt));
  const isKnown = markedId === undefined || story.alerts.some(({ alertId }) => alertId === markedId);
  return (
    <section aria-labelledby="alerts" className={styles.alerts}>
      <h2 id="alerts">Alerts</h2>
      {!isKnown && (
        <p className="soft">The alert of this address is not known any more. These are the others.</p>
      )}
      {open.length === 0 && <p className="soft">Nothing is open.</p>}
      {open.map((alert) => (
        <AlertCard
          key={alert.alertId}
          story={story}
          alert={alert}
          today={today}
          isMarked={alert.alertId === markedId}
        />
      ))}
      {past.length > 0 && <PastAlerts story={story} past={past} markedId={markedId} today={today} />}
    </section>
  );
}
