import type { Regeneration } from '../../shared/facts.ts';

type Levels = Pick<Regeneration, 'saltBeforeLb' | 'saltAfterLb'>;

/**
 * A level may rise over a regeneration by its sensor's noise (a standard deviation of up to 3 lb on each reading, so
 * three of the difference are 13 lb); beyond that salt was put in meanwhile and the difference says nothing.
 */
const MOST_RISE_LB = 13;
/** More than so many doses, or a dose and that much, is a reading that dropped out, and no salt. */
const MOST_DOSES = 2;
/** Under this share of the usual volume no brine was drawn, and so no salt. */
const NOTHING_DRAWN = 0.15;

/**
 * Salt that one regeneration used, lb: by the tank's level before and after where both were read, otherwise inferred
 * from the dose, which is nothing where the brine sensor saw none drawn.
 *
 * `byDoseLb` is what the dose alone tells, whether it was measured or not.
 *
 * @param brineShare brine drawn over the usual, null where it is not sensed
 * @param isRead whether the level sensor works: one that sticks reads no difference whatever is drawn
 */
export function saltUsed(
  { saltBeforeLb, saltAfterLb }: Levels,
  saltDoseLb: number,
  { brineShare, isRead }: { brineShare: number | null; isRead: boolean },
): { lb: number; measured: boolean; byDoseLb: number } {
  const byDoseLb = brineShare !== null && brineShare < NOTHING_DRAWN ? 0 : saltDoseLb;
  if (isRead && saltBeforeLb !== undefined && saltAfterLb !== undefined) {
    const lb = saltBeforeLb - saltAfterLb;
    const most = Math.max(MOST_DOSES * saltDoseLb, saltDoseLb + MOST_RISE_LB);
    if (lb >= -MOST_RISE_LB && lb <= most) return { lb, measured: true, byDoseLb };
  }
  return { lb: byDoseLb, measured: false, byDoseLb };
}
