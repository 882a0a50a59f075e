import { keysOf } from '../../shared/records.ts';
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

/** Probabilities of the suspects, in their order, after what some checks have shown; they sum to that of its being shown. */
type Branch = readonly number[];

/** A check, and the probability that it tells if the first of the suspects is true, the second, and so on. */
interface Candidate {
  readonly check: CheckName;
  readonly minutes: number;
  readonly tells: readonly number[];
}

/**
 * The order of checks that saves time: first the one that is expected to tell most a minute of which suspect it is,
 * then the one that tells most of what would be open after the first, whatever that showed, and so on. Greedy, which for
 * tests of such a kind comes close to the best order.
 */
export function checkOrder(suspicions: readonly Suspicion[]): OrderedCheck[] {
  const order: OrderedCheck[] = [];
  // Sums of the same numbers in another order differ in the last digit, which would decide between equals.
  const inOrder = [...suspicions].sort((a, b) => (a.suspect < b.suspect ? -1 : 1));
  let left = candidatesAmong(inOrder);
  let branches: Branch[] = [inOrder.map(({ probability }) => probability)];
  while (order.length < MOST_CHECKS) {
    let best: Candidate | undefined;
    let bestBits = 0;
    const worth: Candidate[] = [];
    for (const candidate of left) {
      const bits = bitsOf(candidate, branches);
      if (bits < WORTH_BITS) continue;
      worth.push(candidate);
      if (best && bits / candidate.minutes <= bestBits / best.minutes) continue;
      best = candidate;
      bestBits = bits;
    }
    if (!best) return order;
    const { check, minutes, tells } = best;
    order.push({ check, minutes, bits: bestBits });
    branches = branches.flatMap((branch) => outcomes(tells, branch));
    // What tells little now tells no more later: checks are independent of each other, given what is true.
    left = worth.filter((each) => each !== best);
  }
  return order;
}

/** The checks that tell any of the suspects from the others. */
function candidatesAmong(suspicions: readonly Suspicion[]): Candidate[] {
  return keysOf(CHECKS).flatMap((check) => {
    const { minutes, shows }: Check = CHECKS[check];
    const tells = suspicions.map(({ suspect }) => shows[suspect] ?? BY_ACCIDENT);
    return tells.every((each) => each === tells[0]) ? [] : { check, minutes, tells };
  });
}

/** Expected information of a check about the suspects, over branches that weigh what they sum to. */
function bitsOf({ tells }: Candidate, branches: readonly Branch[]): number {
  let sum = 0;
  for (const branch of branches) {
    const [told, untold] = outcomes(tells, branch);
    sum = sum + uncertainty(branch) - (uncertainty(told) + uncertainty(untold));
  }
  return sum;
}

/** The two branches that a check splits one into: it tells, or it does not. */
function outcomes(tells: readonly number[], branch: Branch): [told: Branch, untold: Branch] {
  const told: number[] = [];
  const untold: number[] = [];
  for (let suspect = 0; suspect < branch.length; suspect++) {
    const probability = branch[suspect] ?? 0;
    const tellsOfIt = tells[suspect] ?? 0;
    told.push(probability * tellsOfIt);
    untold.push(probability * (1 - tellsOfIt));
  }
  return [told, untold];
}

/** Shannon's entropy of a branch in bits, times what the branch weighs. */
function uncertainty(branch: Branch): number {
  let weight = 0;
  for (const probability of branch) weight += probability;
  let bits = 0;
  for (const probability of branch)
    if (probability > 0) bits -= probability * Math.log2(probability / weight);
  return bits;
}
