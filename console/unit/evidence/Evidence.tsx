import { useLikings } from '../../show/Likings.tsx';
import styles from '../Alerts.module.css';
import type { Alert } from '../types.ts';
import { factsOf } from './factsOf.ts';

/** What speaks for an alert, in words, folded away. */
export function Evidence({ alert }: { alert: Alert }) {
  const likings = useLikings();
  const facts = factsOf(alert.evidence, likings);
  if (facts.length === 0) return null;
  return (
    <details className={styles.evidence}>
      <summary>What speaks for it</summary>
      <dl>
        {facts.map(({ name, value }) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
    </details>
  );
}
