import { median } from '../../set/spread.ts';
import type { Bound } from '../comparison.ts';

/** Work of some size, and what it took. */
export interface Took {
  /** "100 units x 365 days". */
  readonly name: string;
  readonly unitDays: number;
  readonly seconds: number;
}

const WITHIN = 0.1;

/**
 * Whether what a unit-day takes stays the same from size to size: at each of them within a tenth of the median of all. What
 * lies below the median is cheaper than linear, and is out of bounds as well.
 *
 * @param took the smallest first
 */
export function growthBound(what: string, took: readonly Took[]): Bound {
  const off = offMedian(took);
  const offs = off.map((each) => each.off);
  const holds = isWithin(offs);
  return {
    what,
    asked: 'a unit-day within 10 % of the median of all sizes',
    measured: `${percent(Math.min(...offs))} to ${percent(Math.max(...offs))}`,
    holds,
    ...(!holds && {
      because:
        `${off.map((each) => `${percent(each.off)} at ${each.name}`).join(', ')}. ${further(took)} ${once(took)}`.trim(),
    }),
  };
}

/** How far what a unit-day takes lies from the median of all sizes, as a share of that. */
function offMedian(took: readonly Took[]): { readonly name: string; readonly off: number }[] {
  const rates = took.map(({ seconds, unitDays }) => seconds / unitDays);
  const middle = median(rates);
  return took.map(({ name, seconds, unitDays }) => ({ name, off: seconds / unitDays / middle - 1 }));
}

/** What each unit-day takes that one size has more than the size before it: what a run takes once is not in that. */
function further(took: readonly Took[]): string {
  const microseconds = took.slice(1).map(({ seconds, unitDays }, index) => {
    const before = took[index] ?? { seconds: 0, unitDays: 0 };
    return ((1e6 * (seconds - before.seconds)) / (unitDays - before.unitDays)).toFixed(0);
  });
  return `Each further unit-day takes ${microseconds.join(', ')} us from size to size.`;
}

/**
 * What every run takes once, whatever its size, if that explains how far the sizes lie apart: what the smallest takes beyond
 * the rate of the largest, for which the others are then judged without it.
 */
function once(took: readonly Took[]): string {
  const [smallest, largest] = [took[0], took.at(-1)];
  if (!smallest || !largest) return '';
  const seconds = smallest.seconds - (smallest.unitDays * largest.seconds) / largest.unitDays;
  const without = offMedian(took.map((each) => ({ ...each, seconds: each.seconds - seconds })));
  const offs = without.map(({ off }) => off);
  if (seconds <= 0 || !isWithin(offs)) return '';
  return `A run takes about ${seconds.toFixed(1)} s once, whatever its size, mostly while the runtime compiles the code; without that all sizes lie from ${percent(Math.min(...offs))} to ${percent(Math.max(...offs))}.`;
}

function isWithin(offs: readonly number[]): boolean {
  return offs.every((off) => Math.abs(off) <= WITHIN);
}

function percent(share: number): string {
  return `${share > 0 ? '+' : ''}${(100 * share).toFixed(0)} %`;
}
