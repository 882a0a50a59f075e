import type { Severity } from '../../shared/alerts.ts';
import type { Unit } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
import { formatLocalDate, type LocalDate } from '../../shared/time/localDate.ts';
import type { DayQuantiles } from '../demand/daySearch.ts';
import { normalProbability } from '../demand/gamma.ts';
import { runOutDays, runOutProbability, type SaltAhead } from '../demand/saltRunOut.ts';
import { useAhead } from '../demand/useAhead.ts';
import { reserveOf } from '../unit/controlCount.ts';
import { DAYS_KEPT, gallonsOfSalt, type SaltUse } from '../unit/memory/saltUse.ts';
import { controlCapacityGallons } from '../unit/outlook.ts';
import type { UnitState } from '../unit/state.ts';
import type { WatchedKind } from './kind.ts';
import type { SaltLowRules } from './rules/saltLow.ts';

const HOUR_MS = 3_600_000;

/** The salt in the tank against the regenerations to come: see `runOutProbability`. */
export const saltLow: WatchedKind<SaltLowRules> = {
  kind: 'salt-low',
  consequenceOf: ['no-salt-draw'],
  heeds: ['flow-day', 'regeneration', 'salt-level', 'settings', 'service-visit', 'power'],
  look(unit, state, rules, at, isOpen) {
    const { saltUse } = state.memories;
    const { household, lastDate } = state;
    if (saltUse.lb === null || lastDate === null || !state.inService) return null;
    const cycleGallons = usualCycleGallons(unit, state, saltUse);
    const left = gallonsOfSalt(saltUse, state, cycleGallons);
    if (left === null) return null;
    const { lb, variance, gallons } = saltUse;
    const doses = lb / state.draw.usualSaltLb;
    // More than the use of so many days can hardly come to: most tanks, most of the time.
    if (doses > 2 && left > 2.5 * rules.horizonDays * household.level) return null;
    const salt = saltAhead(state, { lb, variance, gallons }, cycleGallons, lastDate, rules);
    const patience = patienceDays(saltUse, rules);
    const horizon = runOutProbability(household, lastDate, salt, patience);
    // With less than a dose an episode goes on until the refill, however long it is to the next regeneration.
    const probability = Math.max(horizon, lessThanADose(saltUse, state));
    if (probability < rules.clear) return null;
    const severity = isTelling(saltUse, at, rules)
      ? severityAt(horizon, runOutProbability(household, lastDate, salt, rules.soonDays), rules)
      : null;
    if (severity === null && !isOpen) return null;
    let days: DayQuantiles | undefined;
    const told = () => {
      days ??= runOutDays(household, lastDate, salt);
      return days;
    };
    return {
      probability,
      causes: [],
      severity,
      lasts: true,
      summary: () => summary(state, doses, told(), lastDate),
      evidence: () => evidence(state, saltUse, cycleGallons, told(), patience),
    };
  },
};

/** The local day by which the salt in the tank has run out with 50 %; null where no level tells, or beyond a year. */
export function saltRunsOut(unit: Unit, state: UnitState, rules: SaltLowRules): LocalDate | null {
  const { household, lastDate, memories } = state;
  const { lb, stuck } = memories.saltUse;
  if (lb === null || stuck || lastDate === null) return null;
  const { variance, gallons } = memories.saltUse;
  const salt = saltOf(unit, state, { lb, variance, gallons }, lastDate, rules);
  if (salt === null) return null;
  const { p50 } = runOutDays(household, lastDate, salt);
  return p50 === null ? null : lastDate + p50;
}

/** The salt in a tank, lb, the variance of what is known of it, lb², and treated water since the last regeneration, gallons. */
export interface TankKnown {
  readonly lb: number;
  readonly variance: number;
  readonly gallons: number;
}

/** What is known of a tank, with how its salt goes from the last day counted on; null where the control never regenerates. */
export function saltOf(
  unit: Unit,
  state: UnitState,
  tank: TankKnown,
  lastDate: LocalDate,
  rules: SaltLowRules,
): SaltAhead | null {
  const cycleGallons = usualCycleGallons(unit, state, state.memories.saltUse);
  if (!(cycleGallons > 0 && Number.isFinite(cycleGallons))) return null;
  return saltAhead(state, tank, cycleGallons, lastDate, rules);
}

/** Treated water of a cycle, gallons. Before a few have been seen, it is what the control makes of its settings. */
function usualCycleGallons(unit: Unit, state: UnitState, { cycles, cycleGallons }: SaltUse): number {
  if (cycles >= 2) return cycleGallons;
  return Math.max(
    controlCapacityGallons(state) - reserveOf(state.count, unit.alternating),
    state.household.level,
  );
}

/**
 * The forecast follows the household's level within days, which guests raise for a while; its use over the last weeks
 * does not. The pace to come is taken to lie between the two, and the further they are apart the less is known.
 */
function saltAhead(
  { household, draw, memories: { saltUse } }: UnitState,
  { lb, variance, gallons }: TankKnown,
  cycleGallons: number,
  lastDate: LocalDate,
  rules: SaltLowRules,
): SaltAhead {
  const forecast = useAhead(household, lastDate).mean(rules.horizonDays) / rules.horizonDays;
  const apart = (saltUse.days / (2 * DAYS_KEPT)) * (saltUse.dailyGallons / forecast - 1);
  const pace = 1 + apart;
  return {
    lb,
    deviationLb: Math.sqrt(variance),
    doseLb: draw.usualSaltLb,
    doseSpread: rules.doseSpread,
    untilNextGallons: Math.max(0, cycleGallons - gallons),
    cycleGallons,
    pace,
    paceSpread: Math.hypot(rules.cycleSpread, apart / pace),
  };
}

/** Within how many days the salt must run out to be worth a word: fewer where the household is used to waiting longer. */
function patienceDays({ refillDays }: SaltUse, rules: SaltLowRules): number {
  if (refillDays.length < rules.habitRefills) return rules.horizonDays;
  let fewest = Number.POSITIVE_INFINITY;
  for (const days of refillDays) fewest = Math.min(fewest, days);
  const past = Math.floor(rules.pastHabit * fewest);
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

function lessThanADose({ lb, variance }: SaltUse, { draw }: UnitState): number {
  return lb === null ? 0 : normalProbability((draw.usualSaltLb - lb) / Math.sqrt(variance));
}

function summary(state: UnitState, doses: number, { p50 }: DayQuantiles, lastDate: LocalDate): string {
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
  cycleGallons: number,
  { p10, p50, p90 }: DayQuantiles,
  patience: number,
) {
  const doseLb = state.draw.usualSaltLb;
  const saltLb = saltUse.lb ?? 0;
  return {
    saltLb,
    saltDeviationLb: Math.sqrt(saltUse.variance),
    saltPerRegenerationLb: doseLb,
    regenerationsLeft: saltLb / doseLb,
    gallonsPerRegeneration: cycleGallons,
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
