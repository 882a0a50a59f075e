import styles from './AlarmHealthPage.module.css';

/** A share and its interval on a line from 0 to 1; the numbers stand beside it. */
export function IntervalMark({ value, low, high }: { value: number; low: number; high: number }) {
  return (
    <svg className={styles.interval} viewBox="0 0 100 16" preserveAspectRatio="none" aria-hidden="true">
      <line x1="0" x2="100" y1="8" y2="8" stroke="var(--line-strong)" />
      <rect
        x={low * 100}
        width={(high - low) * 100}
        y="5"
        height="6"
        fill="var(--accent)"
        fillOpacity="0.35"
      />
      <rect
        x={Math.min(98.5, Math.max(0, value * 100 - 0.75))}
        width="1.5"
        y="1"
        height="14"
        fill="var(--accent)"
      />
    </svg>
  );
}
