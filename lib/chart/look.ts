/** How a mark looks: a fill, or a line of some width and dashes. Colours differ in lightness too, for print in grey. */
export interface Look {
  readonly fill?: string;
  readonly stroke?: string;
  readonly width?: number;
  readonly dash?: readonly number[];
}

/** Of words in a picture. */
export const INK = '#26323a';
export const TEXT_SIZE = 10;
/** Half of a triangle's width, and its height. */
export const TRIANGLE = { half: 4, height: 7.5 };
