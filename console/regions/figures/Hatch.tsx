import { HATCH_ID } from './patterns.ts';

/** The hatching for what is inferred; once a page, before the figures that use it. */
export function Hatch() {
  return (
    <svg width="0" height="0" aria-hidden="true" style={{ position: 'absolute' }}>
      <defs>
        <pattern
          id={HATCH_ID}
          width="6"
          height="6"
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <rect width="6" height="6" fill="var(--accent-soft)" />
          <line x1="0" y1="0" x2="0" y2="6" stroke="var(--accent)" strokeWidth="3" />
        </pattern>
      </defs>
    </svg>
  );
}
