/** The id of the hatching that `Hatch` puts into the page. */
export const HATCH_ID = 'regions-hatch';

/** Fills with it. */
export const HATCH_FILL = `url(#${HATCH_ID})`;
