import { type AbsenceRecord, goesOn, JOURNEY_DAYS, LENGTHS, reachedBy, stepOf } from './absence.ts';
import { lnGamma } from './lnGamma.ts';

/**
 * How often a home is away for how long, by its own record and by the fleet's habit. Homes are of two classes: lived in,
 * and standing empty for most of the time. In each, journeys (three days or more) begin as a Poisson process whose rate
 * is spread over homes as a gamma, and last as a Lomax law has it: many are short, and a few are long. What a home has
 * shown weighs the classes and moves both.
 *
 * The numbers are from the 45 homes of the DAIAD trial with 90 days or more (fixtures/daiad-alicante), by the likelihood
 * of their runs that reached 3, 5, 7, 10, 14 and 21 days, rounded: it is flat about them. Fitted to four fifths of the
 * homes and tried on the others (five times), this form has a log-likelihood of -1050; one class and home-made lengths,
 * as it was before, have -1187.
 */
interface HomeClass {
  /** Share of the homes. */
  readonly share: number;
  /** Journeys a year of days at home, and the shape of the gamma: at 1 it is exponential. */
  readonly perYear: number;
  readonly shape: number;
  /** P(a journey lasts n days or more) = (1 + (n - 3) / scaleDays) ^ -tail. */
  readonly scaleDays: number;
  readonly tail: number;
  /** What goes on within days of a journey, as a rate a day: somebody looked after the house. */
  readonly goesOnPerDay: number;
}

const LIVED_IN: HomeClass = {
  share: 0.97,
  perYear: 1.4,
  shape: 1.3,
  scaleDays: 2.5,
  tail: 1.9,
  goesOnPerDay: 0.05,
};
/** Of 45 homes two or three. */
const EMPTY: HomeClass = {
  share: 0.03,
  perYear: 60,
  shape: 1,
  scaleDays: 10,
  tail: 1.6,
  goesOnPerDay: 0.4,
};
/** Runs of one or two days: a year, the shape of that, and the share that last two. Of the same homes. */
const SHORT = { perYear: 6.1, shape: 0.45, twoDays: 0.23, twoDaysWeight: 4 } as const;
/** Who is out for a day so many times as often as others is on a journey more often by this power of it. */
const SHORT_TO_JOURNEYS = 0.7;
/** Each absence during which the meter trickled on makes a run of zeros rarer so much. The likelihood hardly tells. */
const TRICKLED_WEIGHT = 0.25;
/** Journeys that the class's law weighs against a home's own, in how long they last. */
const LENGTHS_WEIGHT = 20;
const JOURNEY = stepOf(JOURNEY_DAYS);
const DAYS_A_YEAR = 365.25;

/** How many absences of at least `days` days begin a day at this home; falls with `days`, which are 1 or more. */
export function absencesPerDay(record: AbsenceRecord, days: number): number {
  const journeys = reachedBy(record, JOURNEY);
  const short = reachedBy(record, 0) - journeys;
  const shortRate = rateOf(SHORT.shape, SHORT.perYear, short, record.daysAtHome);
  const livedIn = classOf(record, LIVED_IN, LIVED_IN.perYear * factorOf(record, shortRate));
  const empty = classOf(record, EMPTY, EMPTY.perYear);
  const isEmpty = 1 / (1 + Math.exp(livedIn.lnWeight - empty.lnWeight));
  const n = Math.max(JOURNEY_DAYS, days);
  const rate =
    (1 - isEmpty) * livedIn.rate * shareLasting(record, LIVED_IN, n) +
    isEmpty * empty.rate * shareLasting(record, EMPTY, n);
  if (days >= JOURNEY_DAYS) return rate;
  const two =
    (SHORT.twoDaysWeight * SHORT.twoDays + reachedBy(record, 1) - journeys) / (SHORT.twoDaysWeight + short);
  return rate + shortRate * (days >= 2 ? two : 1);
}

/** How much likelier than usual journeys without any flow are at a home, by what is no such journey. */
function factorOf({ trickledJourneys }: AbsenceRecord, shortRate: number): number {
  const shortToUsual = (shortRate * DAYS_A_YEAR) / SHORT.perYear;
  return shortToUsual ** SHORT_TO_JOURNEYS / (1 + TRICKLED_WEIGHT * trickledJourneys);
}

/** Mean rate a day of a Poisson process with a gamma prior, given what was seen. */
function rateOf(shape: number, perYear: number, runs: number, days: number): number {
  return (shape + runs) / ((shape * DAYS_A_YEAR) / perYear + days);
}

/** The rate of journeys, were the home of a class, and the logarithm of how well its record fits that. */
function classOf(record: AbsenceRecord, home: HomeClass, perYear: number) {
  const { shape } = home;
  const runs = reachedBy(record, JOURNEY);
  const priorDays = (shape * DAYS_A_YEAR) / perYear;
  const allDays = priorDays + record.daysAtHome;
  let lnWeight = Math.log(home.share) + shape * Math.log(priorDays / allDays);
  if (runs > 0) {
    lnWeight += lnGamma(shape + runs) - lnGamma(shape) - runs * Math.log(allDays);
    for (let step = JOURNEY; step < LENGTHS.length; step++) {
      const ended = reachedBy(record, step) - reachedBy(record, step + 1);
      if (ended > 0) lnWeight += ended * Math.log(surviving(home, step) - surviving(home, step + 1));
    }
  }
  const rate = rateOf(shape, perYear, runs, record.daysAtHome);
  return { lnWeight, rate: goesOn(record) ? Math.max(rate, home.goesOnPerDay) : rate };
}

/** Share of the journeys that last `days` or more, by the law of a class and by those of this home. */
function shareLasting(record: AbsenceRecord, home: HomeClass, days: number): number {
  const step = stepOf(days);
  const share = lasting(home, days);
  const before = surviving(home, step);
  const after = surviving(home, step + 1);
  // Between two lengths a home's own journeys end as the law has it.
  const passed = (before - share) / (before - after);
  const own = reachedBy(record, step) + passed * (reachedBy(record, step + 1) - reachedBy(record, step));
  return (LENGTHS_WEIGHT * share + own) / (LENGTHS_WEIGHT + reachedBy(record, JOURNEY));
}

function lasting({ scaleDays, tail }: HomeClass, days: number): number {
  return (1 + (days - JOURNEY_DAYS) / scaleDays) ** -tail;
}

function surviving(home: HomeClass, step: number): number {
  const days = LENGTHS[step];
  return days === undefined ? 0 : lasting(home, days);
}
