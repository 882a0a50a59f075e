import type { Estimate } from '../../salt/account/saltAccount.ts';

/** The normal deviate of a two-sided interval of 80 %. */
const DEVIATE = 1.2816;

/** An estimate that is off by chance as a normal is. */
export function estimateOf({ value, variance }: { value: number; variance: number }): Estimate {
  const half = DEVIATE * Math.sqrt(variance);
  return { value, low: value - half, high: value + half };
}
