import type { OrderedCheck, Suspicion } from '../../../lib/advice/checkOrder.ts';
import { CHECKS, type Check, type CheckName } from '../../../lib/advice/checks.ts';

const BY_ACCIDENT = 0.02;
const WORTH_BITS = 0.03;
const MOST_CHECKS = 5;

/** The order of checks as lib/advice/checkOrder.ts tells it, in so many words: each check is weighed anew in every round. */
export function plainCheckOrder(suspicions: readonly Suspicion[]): OrderedCheck[] {
  const order: OrderedCheck[] = [];
  // Sums of the same numbers in another order differ in the last digit, which would decide between equals.
  const inOrder = [...suspicions].sort((a, b) => (a.suspect < b.suspect ? -1 : 1));
  let branches: readonly Suspicion[][] = [inOrder];
  let left = Object.entries(CHECKS) as [CheckName, Check][];
  while (order.length < MOST_CHECKS) {
    const rated = left.map(([name, check]) => ({ name, check, bits: bitsOf(check, branches) }));
    const best = rated
      .filter(({ bits }) => bits >= WORTH_BITS)
      .sort((a, b) => b.bits / b.check.minutes - a.bits / a.check.minutes)[0];
    if (!best) return order;
    order.push({ check: best.name, minutes: best.check.minutes, bits: best.bits });
    branches = branches.flatMap((branch) => outcomes(best.check, branch));
    left = left.filter(([name]) => name !== best.name);
  }
  return order;
}

/** Expected information of a check about the suspects, over branches that weigh what they sum to. */
function bitsOf(check: Check, branches: readonly (readonly Suspicion[])[]): number {
  return branches.reduce(
    (sum, branch) =>
      sum + uncertainty(branch) - outcomes(check, branch).reduce((rest, each) => rest + uncertainty(each), 0),
    0,
  );
}

/** The two branches that a check splits one into: it tells, or it does not. */
function outcomes(check: Check, branch: readonly Suspicion[]): Suspicion[][] {
  const tells = ({ suspect }: Suspicion) => check.shows[suspect] ?? BY_ACCIDENT;
  return [
    branch.map((each) => ({ ...each, probability: each.probability * tells(each) })),
    branch.map((each) => ({ ...each, probability: each.probability * (1 - tells(each)) })),
  ];
}

/** Shannon's entropy of a branch in bits, times what the branch weighs. */
function uncertainty(branch: readonly Suspicion[]): number {
  const weight = branch.reduce((sum, { probability }) => sum + probability, 0);
  return branch.reduce(
    (sum, { probability }) => (probability > 0 ? sum - probability * Math.log2(probability / weight) : sum),
    0,
  );
}
