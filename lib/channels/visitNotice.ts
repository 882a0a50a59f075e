/** A planned visit as its technician is told of it, ready to send. */
export interface VisitNotice {
  readonly occasion: 'planned' | 'morning';
  /** Of the site. */
  readonly date: string;
  /** What people call the place, and its id. */
  readonly place: string;
  readonly siteId: string;
  /** What it is about, in some words. */
  readonly about: string;
  /** The brief: as plain text, as a page, and as a PDF of one sheet. */
  readonly text: string;
  readonly html: string;
  readonly pdf: Uint8Array;
  /** Where it can be looked at. */
  readonly link: string;
}
