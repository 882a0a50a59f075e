import { PART_FILL } from './figures/patterns.ts';
import styles from './ShareBar.module.css';
import { type PartOf, type PartWords, sharesOf } from './shares.ts';
import { shareWords } from './shareWords.ts';

interface ShareBarProps {
  /** Of what: it stands before the words. */
  readonly of: string;
  readonly parts: readonly PartOf[];
  readonly words: PartWords;
  /** What is said where there is nothing to part. */
  readonly nothing: string;
}

/** How a figure is known, as a bar and in words: solid as reported, hatched inferred, dotted estimated, empty missing. */
export function ShareBar({ of, parts, words, nothing }: ShareBarProps) {
  const shares = sharesOf(parts);
  if (!shares)
    return (
      <span className={styles.words}>
        {of}: {nothing}
      </span>
    );
  const starts = shares.map((_, index) => shares.slice(0, index).reduce((sum, { value }) => sum + value, 0));
  return (
    <div>
      <svg className={styles.bar} aria-hidden="true">
        {shares.map(({ part, value }, index) => (
          <rect
            key={part}
            x={percentOf(starts[index] ?? 0)}
            width={percentOf(value)}
            height="100%"
            fill={PART_FILL[part]}
          />
        ))}
        <rect width="100%" height="100%" fill="none" stroke="var(--ink-soft)" strokeWidth="2" />
      </svg>
      <span className={styles.words}>
        {of}: {shareWords(shares, words)}
      </span>
    </div>
  );
}

function percentOf(share: number): string {
  return `${share * 100}%`;
}
