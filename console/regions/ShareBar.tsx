import type { Likings } from '../show/Likings.tsx';
import { useLikings } from '../show/Likings.tsx';
import { HATCH_FILL } from './figures/patterns.ts';
import styles from './ShareBar.module.css';
import type { Shares } from './shares.ts';

/** How a figure is known, as a bar and in words: solid is measured, hatched inferred, empty missing. */
export function ShareBar({ shares }: { shares: Shares | undefined }) {
  const likings = useLikings();
  if (!shares) return <span className="soft">Nothing owed</span>;
  const { measured, inferred } = shares;
  return (
    <div>
      <svg className={styles.bar} aria-hidden="true">
        <rect width="100%" height="100%" fill="var(--panel)" stroke="var(--ink-soft)" strokeWidth="2" />
        <rect width={percentOf(measured)} height="100%" fill="var(--accent)" />
        <rect x={percentOf(measured)} width={percentOf(inferred)} height="100%" fill={HATCH_FILL} />
      </svg>
      <span className={styles.words}>{shareWords(shares, likings)}</span>
    </div>
  );
}

function percentOf(share: number): string {
  return `${share * 100}%`;
}

/** Such as `56 % measured, 42 % inferred, 2 % missing`; what is nothing is left out. */
export function shareWords({ measured, inferred, missing }: Shares, likings: Likings): string {
  // To a tenth, so that they make up 100 % again.
  const format = new Intl.NumberFormat(likings.locale, { style: 'percent', maximumFractionDigits: 1 });
  return [
    measured > 0 && `${format.format(measured)} measured`,
    inferred > 0 && `${format.format(inferred)} inferred`,
    missing > 0 ? `${format.format(missing)} missing` : 'none missing',
  ]
    .filter(Boolean)
    .join(', ');
}
