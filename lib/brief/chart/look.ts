import type { Look } from '../../chart/look.ts';
import type { Style } from './drawing.ts';

/** How the marks of a brief look. */
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
