import type { Look } from '../../../chart/look.ts';
import type { Style } from '../content.ts';

/** How marks look on paper. Told apart by lightness and outline as well as by colour, for print in grey. */
export const LOOKS: Readonly<Record<Style, Look>> = {
  grid: { stroke: '#d5dbe0', width: 0.6 },
  axis: { stroke: '#5b6770', width: 0.9 },
  measured: { fill: '#0b4a6f', stroke: '#0b4a6f', width: 0.8 },
  inferred: { fill: '#8fb3cc', stroke: '#0b4a6f', width: 0.8 },
  imputed: { fill: '#ffffff', stroke: '#0b4a6f', width: 0.8 },
  unparted: { fill: '#d5dbe0', stroke: '#5b6770', width: 0.8 },
  wasted: { fill: '#a4460d' },
  whisker: { stroke: '#1b252c', width: 1.3 },
};
