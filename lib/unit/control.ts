import type { Programmed } from '../../shared/registry.ts';

/**
 * The rule of a metered control, as the trade describes it (common practice, no source): it counts treated water
 * down from programmed capacity / programmed hardness, holds back as a reserve the mean of the previous seven
 * days' use, and regenerates at its hour once what it believes is left is not more than that reserve. One of a pair
 * of alternating beds needs no reserve: it regenerates as soon as its count is used up.
 */

/** How many previous days the reserve is the mean of. */
export const RESERVE_DAYS = 7;

/** US gallons that a freshly regenerated bed treats, as the control believes; infinite at a hardness of 0. */
export function believedGallons({ capacityGrains, hardnessGpg }: Programmed): number {
  return hardnessGpg > 0 ? capacityGrains / hardnessGpg : Number.POSITIVE_INFINITY;
}

/** The reserve in US gallons: the mean of the previous days' use, the last seven of those given. 0 without any. */
export function reserveGallons(previousDays: readonly number[]): number {
  const { length } = previousDays;
  const first = Math.max(0, length - RESERVE_DAYS);
  let sum = 0;
  for (let day = first; day < length; day++) sum += previousDays[day] ?? 0;
  return length === 0 ? 0 : sum / (length - first);
}

/** Whether the control, asked at its hour, regenerates. `leftGallons` is what it believes is left. */
export function isDue(leftGallons: number, reserve: number): boolean {
  return leftGallons <= reserve;
}
