/** How a published number came to stand here, and so how far to trust it. */
type Basis =
  | 'read in the source'
  | 'read in a text that quotes the source'
  | 'computed'
  | 'from memory, unverified'
  | 'common practice, no source';

/** A figure that names where it comes from. Show both members wherever the figure is shown. */
export interface Sourced {
  readonly source: string;
  readonly basis: Basis;
}
