import { CHANCE_WORDS } from '../intervals.ts';
import type { Part, PartWords } from '../shares.ts';
import type { Bar } from './bars.ts';
import styles from './Key.module.css';
import { PART_FILL } from './patterns.ts';

interface PartKeyProps {
  /** What is drawn: only what occurs in it is explained. */
  readonly bars: readonly Bar[];
  /** What the parts are called; none where they are not told apart. */
  readonly words: PartWords;
}

const PARTS: readonly Part[] = ['known', 'inferred', 'estimated', 'missing'];

/** What the fills of bars, their whiskers and stars stand for. */
export function PartKey({ bars, words }: PartKeyProps) {
  const occurring = new Set(
    bars.flatMap(({ parts }) => parts.filter(({ value }) => value > 0).map(({ part }) => part)),
  );
  return (
    <ul className={styles.key}>
      {PARTS.filter((part) => occurring.has(part)).map(
        (part) =>
          words[part] && (
            <li key={part}>
              <Swatch part={part} />
              {words[part]}
            </li>
          ),
      )}
      {bars.some(({ range }) => range) && (
        <li>
          <Whisker />
          {CHANCE_WORDS} interval
        </li>
      )}
      {bars.some(({ isWhole }) => !isWhole) && <li>* not of the whole month</li>}
    </ul>
  );
}

function Swatch({ part }: { part: Part }) {
  return (
    <svg width="18" height="12" aria-hidden="true">
      <rect
        x="0.5"
        y="0.5"
        width="17"
        height="11"
        fill={PART_FILL[part]}
        stroke={part === 'missing' ? 'var(--ink-soft)' : 'var(--accent)'}
        strokeDasharray={part === 'missing' ? '3,2' : undefined}
      />
    </svg>
  );
}

function Whisker() {
  return (
    <svg width="12" height="14" aria-hidden="true">
      <path d="M2 1.5H10M6 1.5V12.5M2 12.5H10" fill="none" stroke="var(--ink)" strokeWidth="1.5" />
    </svg>
  );
}
