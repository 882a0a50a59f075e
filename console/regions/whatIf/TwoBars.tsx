import { HATCH_FILL } from '../figures/patterns.ts';
import styles from './WhatIf.module.css';

/** Two amounts beside each other; the numbers stand in the row. */
export function TwoBars({ today, imagined }: { today: number; imagined: number }) {
  const most = Math.max(today, imagined, 1e-9);
  return (
    <svg className={styles.bars} aria-hidden="true">
      <rect width={`${(today / most) * 100}%`} height="9" fill="var(--accent)" />
      <rect y="11" width={`${(imagined / most) * 100}%`} height="9" fill={HATCH_FILL} />
    </svg>
  );
}
