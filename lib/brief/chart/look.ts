import type { Style } from './drawing.ts';

/** How a mark looks: a fill, or a line of some width and dashes. Colours differ in lightness too, for print in grey. */
export interface Look {
  readonly fill?: string;
  readonly stroke?: string;
  readonly width?: number;
  readonly dash?: readonly number[];
}

export const LOOKS: Readonly<Record<Style, Look>> = {
  grid: { stroke: '#d5dbe0', width: 0.6 },
  axis: { stroke: '#5b6770', width: 0.8 },
  use: { fill: '#7b9bb3' },
  hard: { fill: '#f4d9c4' },
  truth: { stroke: '#0b4a6f', width: 1.8 },
  belief: { stroke: '#a4460d', width: 1.4, dash: [4, 2.5] },
  regeneration: { fill: '#0b4a6f', stroke: '#0b4a6f', width: 0.9 },
  'no-salt': { fill: '#ffffff', stroke: '#0b4a6f', width: 0.9 },
};

/** Of words in the picture. */
export const INK = '#26323a';
export const TEXT_SIZE = 10;
/** Half of a triangle's width, and its height. */
export const TRIANGLE = { half: 4, height: 7.5 };
