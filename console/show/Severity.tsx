import type { Severity as Level } from '../../shared/alerts.ts';
import styles from './Severity.module.css';
import { SEVERITY_WORDS } from './words.ts';

/** A word in a shape: full, half and outlined tell the three apart without colour. */
export function Severity({ level }: { level: Level }) {
  return (
    <span className={`${styles.severity} ${styles[level]}`}>
      <svg viewBox="0 0 12 12" aria-hidden="true" className={styles.mark}>
        {level === 'urgent' && <path d="M6 .5 11.5 11H.5Z" fill="currentColor" />}
        {level === 'soon' && <circle cx="6" cy="6" r="5" fill="currentColor" />}
        {level === 'routine' && (
          <circle cx="6" cy="6" r="4.2" fill="none" stroke="currentColor" strokeWidth="1.6" />
        )}
      </svg>
      {SEVERITY_WORDS[level]}
    </span>
  );
}
