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
 */
export function growthBound(what: string, took: readonly Took[]): Bound {
  const each = took.map(({ name, unitDays, seconds }) => ({ name, aUnitDay: seconds / unitDays }));
  const middle = median(each.map(({ aUnitDay }) => aUnitDay));
  const off = each.map(({ name, aUnitDay }) => ({ name, off: aUnitDay / middle - 1 }));
  const out = off.filter((one) => Math.abs(one.off) > WITHIN);
  const offs = off.map((one) => one.off);
  const told = ({ name, off }: { name: string; off: number }) => `${percent(off)} at ${name}`;
  return {
    what,
    asked: 'a unit-day within 10 % of the median of all sizes',
    measured: `${percent(Math.min(...offs))} to ${percent(Math.max(...offs))}`,
    holds: out.length === 0,
    ...(out.length > 0 && { because: because(out.map(told), took, out) }),
  };
}

/** Short runs are dear since the runtime compiles the code while it runs; what else there is is told as it is. */
function because(
  told: readonly string[],
  took: readonly Took[],
  out: readonly { readonly name: string; readonly off: number }[],
): string {
  const short = took.filter(({ seconds }) => seconds < COMPILING_SECONDS).map(({ name }) => name);
  const explained = out.every(({ name, off }) => off > 0 && short.includes(name));
  const why = explained
    ? `. So short a run takes less than ${COMPILING_SECONDS} s, in which the runtime still interprets and compiles the code; the others are within bounds.`
    : '.';
  return `${told.join(', ')}${why}`;
}

const COMPILING_SECONDS = 2;

function percent(share: number): string {
  return `${share > 0 ? '+' : ''}${(100 * share).toFixed(0)} %`;
}
