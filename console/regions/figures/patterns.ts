import type { Part } from '../shares.ts';

/** The ids of the patterns that `Patterns` puts into the page. */
export const HATCH_ID = 'regions-hatch';
export const DOTS_ID = 'regions-dots';

/** Fills with the hatching. */
export const HATCH_FILL = `url(#${HATCH_ID})`;

/** A solid fill, a hatched, a dotted and an empty one: told apart without colour. */
export const PART_FILL: Readonly<Record<Part, string>> = {
  known: 'var(--accent)',
  inferred: HATCH_FILL,
  estimated: `url(#${DOTS_ID})`,
  missing: 'var(--panel)',
};
