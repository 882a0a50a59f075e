import type { Estimate } from '../../../lib/estimate/estimate.ts';
import { HATCH_FILL } from '../figures/patterns.ts';
import styles from './WhatIf.module.css';

interface TwoBarsProps {
  readonly today: Estimate;
  readonly imagined: Estimate;
}

/** Two amounts beside each other, each with its interval; the numbers stand in the row. */
export function TwoBars({ today, imagined }: TwoBarsProps) {
  const most = Math.max(today.high, imagined.high, 1e-9);
  return (
    <svg className={styles.bars} aria-hidden="true">
      <rect width={percent(today.value, most)} height="10" fill="var(--accent)" />
      <Interval of={today} most={most} y={5} />
      <rect y="14" width={percent(imagined.value, most)} height="10" fill={HATCH_FILL} />
      <Interval of={imagined} most={most} y={19} />
    </svg>
  );
}

/** A line from bound to bound, light beneath so that it shows on a bar as well. */
function Interval({ of: { low, high }, most, y }: { of: Estimate; most: number; y: number }) {
  const [from, to] = [percent(low, most), percent(high, most)];
  return (
    <>
      <line x1={from} x2={to} y1={y} y2={y} stroke="var(--panel)" strokeWidth="4" />
      <line x1={from} x2={to} y1={y} y2={y} stroke="var(--ink)" strokeWidth="1.5" />
      <End at={from} y={y} />
      <End at={to} y={y} />
    </>
  );
}

function End({ at, y }: { at: string; y: number }) {
  return <line x1={at} x2={at} y1={y - 4} y2={y + 4} stroke="var(--ink)" strokeWidth="1.5" />;
}

function percent(value: number, most: number): string {
  return `${Math.max(0, Math.min(100, (value / most) * 100))}%`;
}
