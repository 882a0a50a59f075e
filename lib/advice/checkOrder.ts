import { CHECKS, type Check, type CheckName, type Suspect } from './checks.ts';

/** What may be true of a unit, and how probable it is; the probabilities of all suspects sum to 1. */
export interface Suspicion {
  readonly suspect: Suspect;
  readonly probability: number;
}

/** A check that is worth its time, at its place in the order. */
export interface OrderedCheck {
  readonly check: CheckName;
  readonly minutes: number;
  /** What it is expected to tell, in bits of what is still open when its turn comes. */
  readonly bits: number;
}

/** A check tells by accident so often: somebody misreads. A judgement, no source. */
const BY_ACCIDENT = 0.02;
/** A check that tells less than this, in bits, is not worth a technician's time. A judgement, no source. */
const WORTH_BITS = 0.03;
const MOST_CHECKS = 5;

/**
 * The order of checks that saves time: first the one that is expected to tell most a minute of which suspect it is,
 * then the one that tells most of what would be open after the first, whatever that showed, and so on. Greedy, which for
 * tests of such a kind comes close to the best order.
 */
export function checkOrder(suspicions: readonly Suspicion[]): OrderedCheck[] {
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
