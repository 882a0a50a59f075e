import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import * as z from 'zod';
import type { Unit } from '../../shared/registry.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';
import { withoutSaltProbability } from '../unit/brineDraw.ts';
import { believedGallons } from '../unit/control.ts';
import { reserveOf } from '../unit/controlCount.ts';
import { controlCapacityGallons } from '../unit/outlook.ts';
import type { UnitState } from '../unit/state.ts';
import { noiseLb, type Reading, sensorWorks } from '../unit/tankLevel.ts';

const share = z.number().min(0).max(1);

/** The numbers by which a control is judged that was due by its count and is not known to have regenerated. */
export const dueRules = {
  failuresPerUnitYear: z
    .number()
    .positive()
    .default(0.06)
    .describe('How often a drive fails, or a control is left in its set-up mode. A guess, no source'),
  setOtherwisePerUnitYear: z
    .number()
    .min(0)
    .default(0.1)
    .describe('How often a control is set to another capacity and nobody says so. A guess, no source'),
  setAfterLoss: share
    .default(0.8)
    .describe('Probability of that once it has lost its settings in a power failure. A guess, no source'),
  setSpread: z
    .number()
    .positive()
    .default(0.35)
    .describe(
      'Standard deviation of the logarithm of such a capacity over the known one. A guess, no source',
    ),
  reportedChange: share
    .default(0.05)
    .describe(
      'Share of changes that a control which reports its settings keeps to itself. A guess, no source',
    ),
  countSpread: z
    .number()
    .positive()
    .default(0.03)
    .describe(
      'Relative standard deviation of a count: what is drawn before the hour, conversion, a changed clock',
    ),
  imputedSpread: z
    .number()
    .positive()
    .default(0.5)
    .describe('The same of use put in the place of missing days: that of a household day'),
  reportedLate: share
    .default(0.004)
    .describe('Share of regenerations that are reported more than a day late. A guess, no source'),
  lateGoesOn: share
    .default(0.6)
    .describe('Share of those that stay unreported for each day more. A guess, no source'),
  neverReported: share
    .default(0.0001)
    .describe('Share of regenerations of which nothing is ever heard. A guess, no source'),
  comesBack: share
    .default(0.1)
    .describe('Share of such failures that go away by themselves. A guess, no source'),
  doseSpread: z
    .number()
    .positive()
    .default(0.2)
    .describe('Relative standard deviation of the salt of one regeneration about the usual'),
} as const;

const dueRulesSchema = z.strictObject(dueRules);

export type DueRules = z.infer<typeof dueRulesSchema>;

/** What may be behind a control that was due and is not known to have regenerated; the probabilities sum to 1. */
export interface DueJudgement {
  /** It does not regenerate by itself. */
  readonly failed: number;
  /** It regenerates later than is known: it is set to more. */
  readonly setOtherwise: number;
  /** It is not due by its own count, which is a little behind. */
  readonly notDue: number;
  /** It has regenerated, and the report has not come. */
  readonly unreported: number;
}

const DAYS_A_YEAR = 365;
/** Where no regeneration is on record: about a cycle. */
const USUAL_CYCLE_DAYS = 7;
/** Each of two cycles ends anywhere within a day, of about a fifth of the bed. */
const TWICE_SPREAD = 0.2;
/** By the next time that it is due, an unreported regeneration is long past. */
const SECOND_DUE = 2;

/** Judges a control that was due on at least one morning since its last regeneration. */
export function judgeDue(unit: Unit, state: UnitState, rules: DueRules): DueJudgement {
  const { count } = state;
  const capacity = actingGallons(state);
  return weigh(state, rules, {
    over: count.letPassGallons / capacity,
    imputed: count.imputedGallons / capacity,
    split: count.splitGallons / capacity,
    days: daysSince(state, state.regeneratedOn) ?? USUAL_CYCLE_DAYS,
    daysDue: count.missedMornings,
    reported: saltRatio(unit, state, rules),
    back: 1,
  });
}

/** Judges the cycle before, if the control was due on at least one morning of it and let it pass. */
export function judgeCycleBefore(unit: Unit, state: UnitState, rules: DueRules): DueJudgement {
  const { count, bed } = state;
  const capacity = actingGallons(state) * state.compensatedHardnessGpg;
  return weigh(state, rules, {
    over: (bed.previous?.usedGrains ?? 0) / capacity,
    imputed: (bed.previous?.imputedGrains ?? 0) / capacity,
    split: count.splitBeforeGallons / actingGallons(state),
    days: USUAL_CYCLE_DAYS + count.missedBefore,
    daysDue: count.missedBefore + (daysSince(state, state.regeneratedOn) ?? 0),
    // One that came back by its count was due a second time, if its regeneration before has gone unreported.
    reported: count.endedByItself ? twiceDue(unit, state) : 1,
    // A hand helps what has failed; by itself it hardly comes back.
    back: count.endedByItself ? rules.comesBack : 1,
  });
}

/** A cycle in which a control let mornings pass on which it was due. */
interface DueCycle {
  /** What it let pass over what it goes by, and the part of that which stands for days without a report. */
  readonly over: number;
  readonly imputed: number;
  /** Standard deviation of what it counted on the day on which it began. */
  readonly split: number;
  /** How long the cycle took, and how long ago it was first due. */
  readonly days: number;
  readonly daysDue: number;
  /** How much likelier what else is seen is of a regeneration that was not reported than of none. */
  readonly reported: number;
  /** Probability that what had failed would be back by now. */
  readonly back: number;
}

function weigh(state: UnitState, rules: DueRules, cycle: DueCycle): DueJudgement {
  const { over, imputed, daysDue } = cycle;
  const years = Math.max(cycle.days, daysDue) / DAYS_A_YEAR;
  const spread = Math.hypot(rules.countSpread, cycle.split, rules.imputedSpread * imputed);
  const failed = rules.failuresPerUnitYear * years * cycle.back;
  const notDue = normalCdf(1 - over, 0, spread);
  const setOtherwise =
    otherwisePrior(state, years, rules) * (1 - normalCdf(Math.log(over), 0, rules.setSpread));
  const late = rules.reportedLate * rules.lateGoesOn ** (daysDue - 1);
  const lost = rules.neverReported * normalCdf(SECOND_DUE - over, 0, 2 * spread);
  const unreported = (late + lost) * cycle.reported;
  const sum = failed + setOtherwise + notDue + unreported;
  return {
    failed: failed / sum,
    setOtherwise: setOtherwise / sum,
    notDue: notDue / sum,
    unreported: unreported / sum,
  };
}

/** How well what was used fits two cycles, each of which left about a reserve. */
function twiceDue(unit: Unit, state: UnitState): number {
  const { count, bed } = state;
  const capacity = actingGallons(state);
  const used = (bed.previous?.usedGrains ?? 0) / state.compensatedHardnessGpg / capacity;
  const z = (used - 2 + reserveOf(count, unit.alternating) / capacity) / TWICE_SPREAD;
  return Math.exp(-0.5 * z * z);
}

/**
 * What the control goes by: where its cycles say less than is programmed, something else may have started them. One that
 * is set to nothing is due for ever.
 */
function actingGallons(state: UnitState): number {
  return Math.max(1, believedGallons(state.programmed), controlCapacityGallons(state));
}

function daysSince({ lastDate }: UnitState, date: LocalDate | null): number | null {
  return date === null || lastDate === null ? null : lastDate - date;
}

/** Probability that the control has come to be set to another capacity, unknown to anybody. */
function otherwisePrior({ count }: UnitState, years: number, rules: DueRules): number {
  const since = rules.setOtherwisePerUnitYear * years;
  switch (count.settings) {
    case 'lost':
      return rules.setAfterLoss;
    case 'reported':
      return rules.reportedChange * since;
    case 'on-record':
      return since;
  }
}

/** How much likelier the salt level since it was due is of a regeneration that nobody reported than of none. */
function saltRatio(unit: Unit, { count, tank, draw }: UnitState, rules: DueRules): number {
  if (!unit.senses.includes('salt-level')) return 1;
  const before = count.levelBeforeDue;
  const after = readingsAfter(before, tank.since);
  if (!before || !after) return 1;
  const drop = before.lb - after.lb;
  if (drop < -REFILL_LB) return 1;
  const noise = noiseLb(tank) * Math.sqrt(1 / before.count + 1 / after.count);
  const none = density(drop, 0, noise) + FLOOR;
  const usual = draw.usualSaltLb;
  const drawn = density(drop, usual, Math.hypot(noise, rules.doseSpread * usual)) + FLOOR;
  const without = withoutSaltProbability(draw);
  const works = sensorWorks(tank);
  return (works * ((1 - without) * drawn + without * none)) / none + (1 - works);
}

/** A bag of salt that was put in hides what went before. */
const REFILL_LB = 12;
/** No sensor is beyond doubt. */
const FLOOR = 1e-3;
/** A running mean of more readings than this no longer gives the last ones. */
const MOST_READINGS = 29;
const LEAST_READINGS = 2;

/** The mean of the readings that came into a mean after it was `before`. */
function readingsAfter(before: Reading | null, now: Reading | null): Reading | null {
  if (!before || !now || before.count < LEAST_READINGS) return null;
  const count = now.count - before.count;
  if (count < 1 || now.count > MOST_READINGS) return null;
  return { lb: (now.lb * now.count - before.lb * before.count) / count, count };
}

function density(value: number, mean: number, spread: number): number {
  const z = (value - mean) / spread;
  return Math.exp(-0.5 * z * z) / (spread * Math.sqrt(2 * Math.PI));
}
