import { Z_OF_80_PERCENT } from '../../salt/account/interval.ts';
import type { Estimate } from '../../salt/account/saltAccount.ts';

/** An estimate that is off by chance as a normal is. */
export function estimateOf({ value, variance }: { value: number; variance: number }): Estimate {
  const half = Z_OF_80_PERCENT * Math.sqrt(variance);
  return { value, low: value - half, high: value + half };
}
