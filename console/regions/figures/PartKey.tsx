import type { Part } from './bars.ts';
import styles from './Key.module.css';
import { HATCH_FILL } from './patterns.ts';

interface PartKeyProps {
  readonly words: Partial<Record<Part, string>>;
  /** Whether some bar is not of a whole month. */
  readonly hasParts: boolean;
}

const PARTS: readonly Part[] = ['known', 'inferred', 'missing'];

/** What the fills of bars stand for. */
export function PartKey({ words, hasParts }: PartKeyProps) {
  return (
    <ul className={styles.key}>
      {PARTS.map(
        (part) =>
          words[part] && (
            <li key={part}>
              <Swatch part={part} />
              {words[part]}
            </li>
          ),
      )}
      {hasParts && <li>* not of the whole month</li>}
    </ul>
  );
}

function Swatch({ part }: { part: Part }) {
  const fill = { known: 'var(--accent)', inferred: HATCH_FILL, missing: 'var(--panel)' }[part];
  return (
    <svg width="18" height="12" aria-hidden="true">
      <rect
        x="0.5"
        y="0.5"
        width="17"
        height="11"
        fill={fill}
        stroke={part === 'missing' ? 'var(--ink-soft)' : 'var(--accent)'}
        strokeDasharray={part === 'missing' ? '3,2' : undefined}
      />
    </svg>
  );
}
