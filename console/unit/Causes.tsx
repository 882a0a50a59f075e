import { percent } from '../show/amounts.ts';
import { useLikings } from '../show/Likings.tsx';
import { CAUSE_WORDS, plain, sureness } from '../show/words.ts';
import styles from './Alerts.module.css';
import { causesOf } from './evidence/causesOf.ts';
import type { Alert } from './types.ts';

/** What may have brought an alert about, the likeliest first, each share of the whole. */
export function Causes({ alert }: { alert: Alert }) {
  const likings = useLikings();
  const causes = causesOf(alert);
  if (causes.length === 0) return null;
  const words: Readonly<Record<string, string>> = CAUSE_WORDS;
  return (
    <div>
      <h4 className={styles.small}>If it is so, it is because of</h4>
      <ol className={styles.causes}>
        {causes.map(({ cause, probability }) => (
          <li key={cause}>
            <span>{words[cause] ?? plain(cause)}</span>
            <meter min={0} max={1} value={probability} aria-label={words[cause] ?? plain(cause)} />
            <span className="soft small numbers">
              {percent(probability, likings)}, {sureness(probability).toLowerCase()}
            </span>
          </li>
        ))}
      </ol>
    </div>
  );
}
