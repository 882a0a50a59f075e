import type { ClockReading, PowerFailure } from './clock.ts';
import { keptShort } from './keptShort.ts';
import type { ClockRules } from './rules/clock.ts';

/** Probability of each state of a control's clock; they sum to 1. A hidden Markov model over its readings. */
export interface ClockBelief {
  /** Right, or off by a summer-time hour. */
  readonly right: number;
  /** Morning and evening are swapped. */
  readonly twelve: number;
  /** Off otherwise, and perhaps on its way. */
  readonly drift: number;
  /** Right, but programmed to regenerate at another hour than the record has. */
  readonly changed: number;
}

/** Nothing is beyond doubt. */
const LEAST = 1e-6;
const DAYS_A_YEAR = 365.25;
/** Standard deviation of the edges of what is right, in hours: starts come late by chance, reports hardly. */
const EDGE = { start: 0.15, report: 0.05 } as const;
/** A wrong clock mostly stands still between two readings, within some minutes; otherwise it runs off. Guesses. */
const STANDS = { share: 0.8, spreadHours: 0.12 } as const;
const RUNS = { spreadHours: 0.3, spreadHoursADay: 0.25, mostHours: 3 } as const;
/** Somebody who programs another hour mostly takes one of the night, 0 to 5. Common practice, no source. */
const NIGHT = { hours: 6, share: 0.9 } as const;
/** A start comes from this much before its full hour to this much after it, hours. */
const EARLY = 0.03;
const LATE = 0.27;
/** Share of the readings of such that do not repeat the one before: a summer-time hour lies between. A guess, no source. */
const MOVED_ANEW = 0.2;

/** What is believed of a clock that has not been read. */
export function priorBelief({ wrongAtFirst, recordWrongAtFirst }: ClockRules): ClockBelief {
  return {
    right: 1 - 2 * wrongAtFirst - recordWrongAtFirst,
    twelve: wrongAtFirst,
    drift: wrongAtFirst,
    changed: recordWrongAtFirst,
  };
}

/** What may have begun or ended over some days. */
export function passTime(
  belief: ClockBelief,
  days: number,
  failure: PowerFailure | null,
  rules: ClockRules,
): ClockBelief {
  const stays = 1 - begun(rules.setRightPerUnitYear, days);
  const makes = failure ? madeBy(failure, rules) : MAKES_NOTHING;
  const toTwelve = Math.max(begun(rules.twelvesPerUnitYear, days), makes.twelve);
  const toDrift = Math.max(begun(rules.driftsPerUnitYear, days), makes.drift);
  const twelve = belief.twelve * stays + belief.right * toTwelve;
  const drift = belief.drift * stays + belief.right * toDrift;
  const changed = belief.changed + belief.right * begun(rules.changesPerUnitYear, days);
  return { right: Math.max(0, 1 - twelve - drift - changed), twelve, drift, changed };
}

/** Probability that something that begins so often a year does within so many days. */
function begun(perYear: number, days: number): number {
  return 1 - Math.exp((-perYear * days) / DAYS_A_YEAR);
}

const MAKES_NOTHING = { twelve: 0, drift: 0 } as const;

/** What a power failure makes of a clock that was right. */
function madeBy({ settingsKept }: PowerFailure, rules: ClockRules) {
  return settingsKept
    ? { twelve: rules.failureMakesTwelve, drift: rules.failureMakesDrift }
    : { twelve: rules.lossMakesTwelve, drift: rules.lossMakesDrift };
}

/**
 * Density of a reading in each state, a 1/hour around the clock.
 *
 * @param before the wrong reading before it, if there is one since a right one
 * @param about how probably the reading says nothing of the clock, and the local hour of a start
 */
export function likelihoodOf(
  { at, fastHours, by }: ClockReading,
  before: ClockReading | null,
  { odd, startHour }: { odd: number; startHour: number | null },
  rules: ClockRules,
): ClockBelief {
  const right = within(fastHours, rules.withinHours, EDGE[by]);
  // By definition: whoever starts where it should has neither run off nor another hour.
  const isOff = Math.abs(fastHours) > rules.withinHours;
  const moved = before && Math.abs(aroundTheClock(fastHours - before.fastHours));
  const days = before ? (at - before.at) / 86_400_000 : 0;
  const twelve = swapped(within(12 - Math.abs(fastHours), rules.withinHours, EDGE[by]), moved);
  const drift = isOff ? offBy(moved, days) : 0;
  const changed = startHour === null ? right : isOff ? anotherHour(startHour, moved) : 0;
  return {
    right: orOdd(right, odd),
    twelve: orOdd(twelve, odd),
    drift: orOdd(drift, odd),
    changed: orOdd(changed, odd),
  };
}

/** A density where the reading may as well be odd, and then anywhere around the clock. */
function orOdd(density: number, odd: number): number {
  return (1 - odd) * density + odd / 24;
}

/** Bayes' rule. */
export function settled(before: ClockBelief, likelihood: ClockBelief): ClockBelief {
  const right = before.right * likelihood.right;
  const twelve = before.twelve * likelihood.twelve;
  const drift = before.drift * likelihood.drift;
  const changed = before.changed * likelihood.changed;
  const sum = right + twelve + drift + changed;
  return {
    right: Math.max(LEAST, keptShort(right / sum)),
    twelve: keptShort(twelve / sum),
    drift: keptShort(drift / sum),
    changed: keptShort(changed / sum),
  };
}

/** Even within so many hours of right, and falling off steeply beyond. */
function within(offHours: number, hours: number, edge: number): number {
  const beyond = Math.max(0, Math.abs(offHours) - hours) / edge;
  return Math.exp(-0.5 * beyond * beyond) / (2 * hours);
}

/** A swapped clock that was read before reads nearly the same again. */
function swapped(near: number, moved: number | null): number {
  if (moved === null || near < 1e-3) return near;
  return MOVED_ANEW * near + (1 - MOVED_ANEW) * normal(moved, STANDS.spreadHours);
}

function offBy(movedHours: number | null, days: number): number {
  if (movedHours === null) return 1 / 24;
  const spread = Math.min(RUNS.mostHours, RUNS.spreadHours + RUNS.spreadHoursADay * days);
  return (
    STANDS.share * normal(movedHours, STANDS.spreadHours) + (1 - STANDS.share) * normal(movedHours, spread)
  );
}

/** Starts at another programmed hour: at any full one at first, then at the same, and by summer time at the next. */
function anotherHour(startHour: number, moved: number | null): number {
  const hour = Math.floor(startHour + EARLY);
  if (startHour - hour > LATE) return 0;
  const chosen = hour % 24 < NIGHT.hours ? NIGHT.share / NIGHT.hours : (1 - NIGHT.share) / (24 - NIGHT.hours);
  const anew = chosen / (EARLY + LATE);
  return moved === null ? anew : MOVED_ANEW * anew + (1 - MOVED_ANEW) * normal(moved, STANDS.spreadHours);
}

function normal(deviation: number, spread: number): number {
  const z = deviation / spread;
  return Math.exp(-0.5 * z * z) / (spread * Math.sqrt(2 * Math.PI));
}

/** Hours brought to the round of the clock: -12 to 12. */
export function aroundTheClock(hours: number): number {
  return hours - 24 * Math.round(hours / 24);
}
