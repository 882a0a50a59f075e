import * as z from 'zod';
import type { Severity } from '../../shared/alerts.ts';
import type { Unit } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
import { formatLocalDate, type LocalDate } from '../../shared/time/localDate.ts';
import { normalProbability } from '../demand/gamma.ts';
import { HORIZON_DAYS, useAhead } from '../demand/useAhead.ts';
import { reserveOf } from '../unit/controlCount.ts';
import { DAYS_KEPT, gallonsOfSalt, type SaltUse } from '../unit/memory/saltUse.ts';
import { controlCapacityGallons } from '../unit/outlook.ts';
import type { UnitState } from '../unit/state.ts';
import type { WatchedKind } from './kind.ts';

const probability = z.number().min(0).max(1);
const days = z.int().min(1).max(HORIZON_DAYS);

export const saltLowRulesSchema = z.strictObject({
  horizonDays: days
    .default(21)
    .describe('Told when salt will run out within so many days: time for a round to pass the house'),
  soonDays: days.default(5).describe('Within so many days somebody is sent, or the household is called'),
  routine: probability.default(0.7).describe('Rather likely than not, with something in hand for noise'),
  soon: probability.default(0.7).describe('The same, of the salt running out within the shorter time'),
  clear: probability
    .default(0.1)
    .describe(
      'An open episode ends below this, as after a refill; far below what raises it, against flicker',
    ),
  habitRefills: z
    .int()
    .min(1)
    .default(3)
    .describe('So many refills without a word are a habit; a home with fewer is told by the horizon alone'),
  leastDays: days.default(3).describe('Told within so many days whatever the habit of the household'),
  pastHabit: z
    .number()
    .min(0)
    .max(1)
    .default(0.75)
    .describe(
      'Past its habit is a household with less than this share of the fewest days of salt at which it refilled',
    ),
  freshHours: z
    .number()
    .positive()
    .default(12)
    .describe('Nothing is raised on a reading known for longer: the household may have refilled since'),
  cycleSpread: probability
    .default(0.1)
    .describe(
      'What is taken for the water of a cycle and the salt of a dose may be off by so much. A guess, no source',
    ),
});

export type SaltLowRules = z.infer<typeof saltLowRulesSchema>;

const HOUR_MS = 3_600_000;

/**
 * The salt in the tank against the regenerations to come. The salt is good for so much treated water, known with a
 * variance; the household's use of the next n days has its own. Both being near normal by then, so is their difference,
 * and P(run out within n days) = P(use of n days >= water that the salt is good for).
 */
export const saltLow: WatchedKind<SaltLowRules> = {
  kind: 'salt-low',
  consequenceOf: ['no-salt-draw'],
  look(unit, state, rules, at) {
    const { saltUse } = state.memories;
    const { household, lastDate } = state;
    if (saltUse.lb === null || lastDate === null || !state.inService) return null;
    const left = saltLeft(unit, state, saltUse, rules);
    if (!left) return null;
    const doses = saltUse.lb / state.draw.usualSaltLb;
    // More than the use of so many days can hardly come to: most tanks, most of the time.
    if (doses > 2 && left.gallons > 2.5 * rules.horizonDays * household.level) return null;
    const within = (ahead: number) => runOutProbability(state, lastDate, left, ahead);
    const patience = patienceDays(saltUse, rules);
    const horizon = within(patience);
    // With less than a dose an episode goes on until the refill, however long it is to the next regeneration.
    const probability = Math.max(horizon, lessThanADose(saltUse, state));
    if (probability < rules.clear) return null;
    return {
      probability,
      causes: [],
      severity: isTelling(saltUse, at, rules) ? severityAt(horizon, within(rules.soonDays), rules) : null,
      lasts: true,
      summary: () => summary(state, doses, quantiles(within), lastDate),
      evidence: () => evidence(state, saltUse, left, quantiles(within), patience),
    };
  },
};

interface SaltLeft {
  gallons: number;
  variance: number;
  cycleGallons: number;
}

/** What the salt is good for. Before a few cycles have been seen, a cycle is what the control makes of its settings. */
function saltLeft(unit: Unit, state: UnitState, saltUse: SaltUse, rules: SaltLowRules): SaltLeft | null {
  const believed = controlCapacityGallons(state) - reserveOf(state.count, unit.alternating);
  const cycleGallons = saltUse.cycles >= 2 ? saltUse.cycleGallons : Math.max(believed, state.household.level);
  const left = gallonsOfSalt(saltUse, state, cycleGallons);
  return (
    left && {
      gallons: left.gallons,
      variance: left.variance + (rules.cycleSpread * left.gallons) ** 2,
      cycleGallons,
    }
  );
}

/** Within how many days the salt must run out to be worth a word: fewer where the household is used to waiting longer. */
function patienceDays({ refillDays }: SaltUse, rules: SaltLowRules): number {
  if (refillDays.length < rules.habitRefills) return rules.horizonDays;
  const past = Math.floor(rules.pastHabit * Math.min(...refillDays));
  return Math.max(rules.leastDays, Math.min(rules.horizonDays, past));
}

/** Whether the tank has been read of late by a sensor that works, and not as if salt had been put in since. */
function isTelling({ stuck, odd, lb, readAt }: SaltUse, at: Instant, { freshHours }: SaltLowRules): boolean {
  const isFresh = readAt !== null && at - readAt <= freshHours * HOUR_MS;
  return isFresh && !stuck && (odd === null || odd < (lb ?? 0));
}

function severityAt(probability: number, soonProbability: number, rules: SaltLowRules): Severity | null {
  if (soonProbability >= rules.soon) return 'soon';
  return probability >= rules.routine ? 'routine' : null;
}

/**
 * The forecast follows the household's level within days, which guests raise for a while; its use over the last weeks
 * does not. What is to come is taken to lie between the two, and the further they are apart the less is known.
 */
function runOutProbability(state: UnitState, lastDate: LocalDate, left: SaltLeft, days: number): number {
  const ahead = useAhead(state.household, lastDate);
  const mean = ahead.mean(days);
  const { dailyGallons, days: known } = state.memories.saltUse;
  const apart = (known / (2 * DAYS_KEPT)) * (dailyGallons * days - mean);
  const variance = ahead.deviation(days) ** 2 + left.variance + apart ** 2;
  return normalProbability((mean + apart - left.gallons) / Math.sqrt(variance));
}

function lessThanADose({ lb, variance }: SaltUse, { draw }: UnitState): number {
  return lb === null ? 0 : normalProbability((draw.usualSaltLb - lb) / Math.sqrt(variance));
}

interface Quantiles {
  p10: number | null;
  p50: number | null;
  p90: number | null;
}

/** Days after the last one counted by which it has run out with 10, 50 and 90 % probability; null beyond a year. */
function quantiles(within: (days: number) => number): Quantiles {
  const by = (p: number) => {
    for (let day = 1; day <= HORIZON_DAYS; day++) if (within(day) >= p) return day;
    return null;
  };
  return { p10: by(0.1), p50: by(0.5), p90: by(0.9) };
}

function summary(state: UnitState, doses: number, { p50 }: Quantiles, lastDate: LocalDate): string {
  if (state.memories.saltUse.stuck)
    return `The level sensor of the salt tank sticks at ${Math.round(state.tank.lastLb)} lb: how much salt is left cannot be told.`;
  const when = p50 === null ? '' : ` in about ${p50} days, on ${formatLocalDate(lastDate + p50)}`;
  return doses < 1
    ? `The tank holds less salt than one regeneration needs; the next one is expected${when || ' some day'}.`
    : `The salt will run out${when} unless the tank is refilled.`;
}

function evidence(
  state: UnitState,
  saltUse: SaltUse,
  left: SaltLeft,
  { p10, p50, p90 }: Quantiles,
  patience: number,
) {
  const doseLb = state.draw.usualSaltLb;
  const saltLb = saltUse.lb ?? 0;
  return {
    saltLb,
    saltDeviationLb: Math.sqrt(saltUse.variance),
    saltPerRegenerationLb: doseLb,
    regenerationsLeft: saltLb / doseLb,
    gallonsPerRegeneration: left.cycleGallons,
    usualGallonsPerDay: state.household.level,
    daysLeftP10: p10,
    daysLeftP50: p50,
    daysLeftP90: p90,
    runsOutOn: p50 === null || state.lastDate === null ? null : formatLocalDate(state.lastDate + p50),
    toldWithinDays: patience,
    refillsSeen: saltUse.refillDays.length,
    fewestDaysAtRefill: saltUse.refillDays.length === 0 ? null : Math.min(...saltUse.refillDays),
    sensorSticks: saltUse.stuck,
  };
}
