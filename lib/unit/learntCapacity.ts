import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import type { LocalDate } from '../../shared/time/localDate.ts';
import { CAPACITY_TOLERANCE, type CapacityBounds, type ControlCount, settledCount } from './controlCount.ts';

/** What the last cycles say where they contradict the settings that are known. */
export interface LearntCapacity {
  /** The control's capacity is over the one and at most the other, US gallons. */
  readonly overGallons: number;
  readonly upToGallons: number;
  /** Cycles in a row that agree on it, and how many of them the known settings contradict. */
  readonly cycles: number;
  readonly contradicting: number;
  /** The local day on which the last of those ended. */
  readonly lastOn: LocalDate;
  /** Probability that the control goes by something else than is known. */
  readonly probability: number;
}

/** The numbers by which cycles are weighed. */
export interface LearningRules {
  /** Probability that a control has been set otherwise than is known before it was first seen. */
  readonly setUnknown: number;
  /** The same of a control that has lost its settings. */
  readonly setAfterLoss: number;
  /** How often a year that happens later. */
  readonly changesPerUnitYear: number;
  /** Share of changes that a control which reports its settings keeps to itself. */
  readonly reportedChange: number;
  /** How often a year something else begins to start regenerations before they are due. */
  readonly startedEarlyPerUnitYear: number;
  /** Probability that it starts the next at a like count, where cycles are short: use is much the same every few days. */
  readonly steadyEarly: number;
  /** Share of the cycles that contradict the settings by accident. */
  readonly oddCycle: number;
  /** Standard deviation of the logarithm of such a setting about the known one. */
  readonly wrongSpread: number;
}

const DAYS_A_YEAR = 365;
/** A cycle of a few days has bounds as wide as this, as a share of the capacity. */
const SHORT_CYCLE_WIDTH = 0.25;
/** A cycle says no more than this, as a share of all that may be: its count is not exact. */
const LEAST_MASS = 0.01;

/**
 * What the control goes by, from when it regenerates, or null while the known settings explain its cycles. Somebody set
 * it otherwise some cycles ago, one knows not how many: for each such number the cycles since must agree on a capacity.
 * Otherwise each that contradicts the known one is an accident, which may lie anywhere, or something else has come to
 * start regenerations before they are due, whatever was counted.
 *
 * @param knownGallons what is programmed as far as is known, US gallons, above 0 and finite
 */
export function learntCapacity(
  count: ControlCount,
  knownGallons: number,
  rules: LearningRules,
): LearntCapacity | null {
  const { bounds } = count;
  const newest = settledCount(count) - 1;
  if (!isContradicted(bounds, newest, knownGallons)) return null;
  // A control that reports its settings keeps only some changes to itself.
  const share = count.settings === 'reported' ? rules.reportedChange : 1;
  const setUnknown = count.settings === 'lost' ? rules.setAfterLoss : share * rules.setUnknown;
  const perYear = share * rules.changesPerUnitYear;
  let best: LearntCapacity | null = null;
  let over = 0;
  let upTo = Number.POSITIVE_INFINITY;
  let contradicting = 0;
  let lastOn = 0;
  let accident = 1;
  let startedEarly = 1;
  for (let index = newest; index >= 0; index--) {
    const bound = bounds[index];
    if (!bound) break;
    over = Math.max(over, bound.overGallons);
    upTo = Math.min(upTo, bound.upToGallons);
    if (over * (1 - CAPACITY_TOLERANCE) >= upTo * (1 + CAPACITY_TOLERANCE)) break;
    if (contradicts(bound, knownGallons)) {
      const { overGallons, upToGallons } = bound;
      contradicting += 1;
      lastOn = Math.max(lastOn, bound.endedOn);
      accident *=
        rules.oddCycle * Math.max(LEAST_MASS, massOf(overGallons, upToGallons, knownGallons, rules));
      startedEarly *= upToGallons < knownGallons ? earlyAgain(bound, knownGallons, contradicting, rules) : 0;
    }
    if (contradicting === 0) continue;
    const before = bounds[index - 1];
    const years = before ? (bound.endedOn - before.endedOn) / DAYS_A_YEAR : 1;
    const change = before ? Math.min(setUnknown, perYear * years) : setUnknown;
    const changed = change * massOf(over, upTo, knownGallons, rules);
    const otherwise =
      (1 - change) * accident + Math.min(1, rules.startedEarlyPerUnitYear * years) * startedEarly;
    const probability = changed / (changed + otherwise);
    if (best && best.probability >= probability) continue;
    best = {
      overGallons: Math.min(over, upTo),
      upToGallons: Math.max(over, upTo),
      cycles: newest - index + 1,
      contradicting,
      lastOn,
      probability,
    };
  }
  return best;
}

/** Whether any cycle up to the newest contradicts what is known: quick, since mostly none does. */
function isContradicted(bounds: readonly CapacityBounds[], newest: number, knownGallons: number): boolean {
  for (let index = newest; index >= 0; index--) {
    const bound = bounds[index];
    if (bound && contradicts(bound, knownGallons)) return true;
  }
  return false;
}

function contradicts({ overGallons, upToGallons }: CapacityBounds, knownGallons: number): boolean {
  return (
    knownGallons > upToGallons * (1 + CAPACITY_TOLERANCE) ||
    knownGallons < overGallons * (1 - CAPACITY_TOLERANCE)
  );
}

/** Share of the settings that somebody might choose that lie within, by the tolerance of a count. */
function massOf(over: number, upTo: number, knownGallons: number, { wrongSpread }: LearningRules): number {
  const upToShare = (upTo * (1 + CAPACITY_TOLERANCE)) / knownGallons;
  const overShare = (over * (1 - CAPACITY_TOLERANCE)) / knownGallons;
  return normalCdf(Math.log(upToShare), 0, wrongSpread) - normalCdf(Math.log(overShare), 0, wrongSpread);
}

/** Probability that what starts regenerations early starts the `nth` within these bounds. */
function earlyAgain(
  { overGallons, upToGallons }: CapacityBounds,
  knownGallons: number,
  nth: number,
  { steadyEarly }: LearningRules,
): number {
  const width =
    (upToGallons * (1 + CAPACITY_TOLERANCE) - overGallons * (1 - CAPACITY_TOLERANCE)) / knownGallons;
  return nth > 1 && width > SHORT_CYCLE_WIDTH ? steadyEarly : Math.min(1, width);
}
