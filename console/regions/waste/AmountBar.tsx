import { HATCH_FILL } from '../figures/patterns.ts';
import styles from './Waste.module.css';

interface AmountBarProps {
  readonly value: number;
  /** What fills the whole width. */
  readonly most: number;
  readonly isHatched?: boolean;
}

/** An amount as long as it is large; its number stands in the row. */
export function AmountBar({ value, most, isHatched = false }: AmountBarProps) {
  const share = most > 0 ? Math.min(1, Math.max(0, value / most)) : 0;
  return (
    <svg className={styles.bar} aria-hidden="true">
      <rect
        width={`${share * 100}%`}
        height="100%"
        fill={isHatched ? HATCH_FILL : 'var(--accent)'}
        stroke="var(--accent)"
      />
    </svg>
  );
}
