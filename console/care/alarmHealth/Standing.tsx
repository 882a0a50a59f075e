import { whole } from '../../show/amounts.ts';
import { useLikings } from '../../show/Likings.tsx';
import styles from './AlarmHealthPage.module.css';
import type { Health } from './query.ts';

/** What is open now, and what was left open. */
export function Standing({ standing: { open, attended, stale, mostStaleOnADay } }: Pick<Health, 'standing'>) {
  const likings = useLikings();
  const facts = [
    ['Open now', open],
    ['Acknowledged or shelved', attended],
    ['Open over 24 hours, not seen to', stale],
    ['The most of those on a day', mostStaleOnADay],
  ] as const;
  return (
    <dl className={styles.facts}>
      {facts.map(([label, value]) => (
        <div key={label}>
          <dt>{label}</dt>
          <dd>
            {whole(value, likings)} <span className="soft">{value === 1 ? 'alert' : 'alerts'}</span>
          </dd>
        </div>
      ))}
    </dl>
  );
}
