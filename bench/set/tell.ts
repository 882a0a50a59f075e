import { table } from '../../bin/replay/text.ts';
import type { Found } from '../comparisons/comparison.ts';
import { spreadOf } from './spread.ts';
import { figure } from './words.ts';

/** What was found, as lines for a terminal. */
export function tell({ measured, bounds, notes }: Found): string {
  const figures = measured.map(({ what, unit, rounds }) => {
    const { median, least, most } = spreadOf(rounds);
    return [what, figure(median), `${figure(least)} to ${figure(most)}`, unit];
  });
  const judged = bounds.map(({ what, asked, measured: came, holds }) => [
    what,
    asked,
    came,
    holds ? 'holds' : 'DOES NOT HOLD',
  ]);
  return [
    table([['', 'median', 'least to most', 'unit'], ...figures], ['left', 'right', 'right', 'left']),
    ...(judged.length === 0
      ? []
      : [table([['bound', 'asked', 'measured', ''], ...judged], ['left', 'left', 'left', 'left'])]),
    ...bounds.flatMap(({ what, because }) => (because === undefined ? [] : [`${what}: ${because}`])),
    ...notes,
  ].join('\n');
}
