import type { Line } from '../comparisons/comparison.ts';
import { spreadOf } from './spread.ts';

/** The median of some rounds as a point of a plot, with the spread. */
export function pointOf(x: number, rounds: readonly number[]): Line['points'][number] {
  const { median: y, least: low, most: high } = spreadOf(rounds);
  return { x, y, low, high };
}
