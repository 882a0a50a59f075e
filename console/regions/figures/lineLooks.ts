import type { SymbolType } from '@observablehq/plot';

/** How one of several lines looks: no two share colour, mark or dashes. */
export interface LineLook {
  readonly stroke: string;
  readonly symbol: SymbolType;
  readonly dashes: string;
}

const LOOKS: readonly LineLook[] = [
  { stroke: 'var(--accent)', symbol: 'circle', dashes: 'none' },
  { stroke: 'var(--soon)', symbol: 'square', dashes: '7,4' },
  { stroke: 'var(--urgent)', symbol: 'triangle', dashes: '2,3' },
  { stroke: 'var(--routine)', symbol: 'diamond', dashes: '10,3,2,3' },
  { stroke: 'var(--good)', symbol: 'cross', dashes: '4,2' },
  { stroke: 'var(--ink)', symbol: 'star', dashes: '1,2' },
];

/** As many lines can be told apart in one figure. */
export const MOST_LINES = LOOKS.length;

/** @param index from 0, below `MOST_LINES` */
export function lineLook(index: number): LineLook {
  return LOOKS[index % LOOKS.length] ?? { stroke: 'var(--ink)', symbol: 'circle', dashes: 'none' };
}
