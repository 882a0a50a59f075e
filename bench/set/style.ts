/** What is drawn in the pictures of the page; how each looks stands in `pageStyle.ts`. */
export type Style = 'grid' | 'axis' | 'whisker' | 'bar' | (typeof SERIES)[number];

/** Of the lines of a plot in their order, told apart by dashes and marks as well as by colour. */
export const SERIES = ['first', 'second', 'third', 'fourth', 'fifth', 'sixth'] as const;
