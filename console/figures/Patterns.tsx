/** Patterns that drawings fill with, as `url(#figure-hatch)`: once a page. */
export function Patterns() {
  return (
    <svg width="0" height="0" aria-hidden="true" style={{ position: 'absolute' }}>
      <defs>
        <pattern
          id="figure-hatch"
          width="6"
          height="6"
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <rect width="6" height="6" fill="var(--sunken)" />
          <path d="M0 0V6" stroke="var(--line-strong)" strokeWidth="1.2" />
        </pattern>
      </defs>
    </svg>
  );
}
