import { DOTS_ID, HATCH_ID } from './patterns.ts';

/** The hatching for what is inferred and the dots for what is estimated; once a page, before the figures that use them. */
export function Patterns() {
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
        <pattern id={DOTS_ID} width="6" height="6" patternUnits="userSpaceOnUse">
          <rect width="6" height="6" fill="var(--panel)" />
          <circle cx="1.5" cy="1.5" r="1.1" fill="var(--accent)" />
          <circle cx="4.5" cy="4.5" r="1.1" fill="var(--accent)" />
        </pattern>
      </defs>
    </svg>
  );
}
