import type { Unit } from '../../shared/registry.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';
import { expectedUse, skip } from '../demand/household.ts';
import type { MonthAccount } from '../salt/monthAccount.ts';
import { regenerationGallons } from '../softening/regenerationWater.ts';
import { regenerate } from './bed.ts';
import { expectedDrawLb } from './brineDraw.ts';
import { believedGallons, isDue } from './control.ts';
import { actingCapacityGallons, endCount, reserveOf } from './controlCount.ts';
import type { UnitState } from './state.ts';
import { enterMonth, takeDay } from './takeDay.ts';

/** A gap in the reports is filled with expected use up to this many days; beyond, the ledger begins anew. */
const LONGEST_GAP_DAYS = 62;
/** So far back a longer silence is estimated for the accounts: one odd date is no century. */
const LONGEST_SILENCE_DAYS = 730;
/** Where in its cycle a unit stands after a gap is known within half a cycle: the variance of a uniform rounding. */
const PHASE_VARIANCE = 1 / 12;

/**
 * Puts expected use in the place of days without a report before `date`. Regenerations may have gone unreported with
 * them: a control that was sound before the gap is taken to have regenerated on each morning on which it was due.
 */
export function fillGap(unit: Unit, state: UnitState, date: LocalDate, closed: MonthAccount[]) {
  if (state.lastDate === null || state.lastDate + 1 >= date) return;
  const wasSound = state.inService && state.count.missedMornings === 0;
  const gap = new Gap(unit, state);
  const ledgerFrom = Math.max(state.lastDate + 1, date - LONGEST_GAP_DAYS);
  const from = Math.max(state.lastDate + 1, date - LONGEST_SILENCE_DAYS);
  for (let missing = from; missing < date; missing++) {
    enterMonth(unit, state, missing, closed);
    const gallons = expectedUse(state.household, missing);
    if (missing < ledgerFrom) gap.estimate(gallons, wasSound);
    else gap.take(missing, gallons, wasSound);
    gap.vary(gallons);
    state.household = skip(state.household, missing);
  }
}

/** One stretch of days without a report, while it is filled. */
class Gap {
  readonly #unit: Unit;
  readonly #state: UnitState;
  /** Its use so far, US gallons. */
  #gallons = 0;

  constructor(unit: Unit, state: UnitState) {
    this.#unit = unit;
    this.#state = state;
  }

  /** A day that the ledgers are charged with; on its morning the control may have regenerated. */
  take(date: LocalDate, gallons: number, wasSound: boolean) {
    const unit = this.#unit;
    const state = this.#state;
    const { count } = state;
    const left = actingCapacityGallons(count, believedGallons(state.programmed)) - count.gallons;
    const isReported = state.regeneratedOn === date;
    if (wasSound && !isReported && isDue(left, reserveOf(count, unit.alternating))) {
      this.#book(1);
      assumeRegeneration(unit, state, gallons);
    }
    takeDay(unit, state, date, gallons, true);
  }

  /** A day of so long a silence that only the accounts are charged with it: regenerations go with the water. */
  estimate(gallons: number, wasSound: boolean) {
    const { month, rawHardnessGpg } = this.#state;
    month.daysImputed += 1;
    month.imputedGallons += gallons;
    month.imputedGrains += gallons * rawHardnessGpg;
    if (wasSound) this.#book(gallons / this.#cycleGallons);
  }

  /** What is not known of a day's use: its own scatter, and with the days before it the household's level. */
  vary(gallons: number) {
    const { household, month } = this.#state;
    const scatter = household.spread * gallons ** 2;
    const level = household.levelVariance * (2 * this.#gallons * gallons + gallons ** 2);
    month.imputedGallonsVariance += scatter + level;
    month.imputedSaltVariance += (scatter + level) * this.#lbPerGallon ** 2;
    if (this.#gallons === 0) month.imputedSaltVariance += PHASE_VARIANCE * this.#doseLb ** 2;
    this.#gallons += gallons;
  }

  get #doseLb(): number {
    const { draw, bed } = this.#state;
    return expectedDrawLb(draw, bed.saltDoseLb);
  }

  /** Water between two regenerations, US gallons; infinite where the control would never regenerate. */
  get #cycleGallons(): number {
    const { count, programmed, household } = this.#state;
    const capacity = actingCapacityGallons(count, believedGallons(programmed));
    return Math.max(household.level, capacity - reserveOf(count, this.#unit.alternating));
  }

  get #lbPerGallon(): number {
    return this.#doseLb / this.#cycleGallons;
  }

  #book(regenerations: number) {
    const { month } = this.#state;
    month.regenerationsImputed += regenerations;
    month.imputedSaltLb += regenerations * this.#doseLb;
    month.inferredRegenerationGallons += regenerations * regenerationGallons(this.#unit.resinCubicFeet);
  }
}

/** A regeneration that nobody reported; its day may be another, so a day's use stands as a guess. */
function assumeRegeneration(unit: Unit, state: UnitState, gallons: number) {
  const { bed, count } = state;
  endCount(count, { metered: false, hour: 0, countedGallons: count.gallons, alternating: unit.alternating });
  count.isAssumed = true;
  regenerate(bed, expectedDrawLb(state.draw, bed.saltDoseLb), 0);
  bed.imputedGrains = gallons * state.compensatedHardnessGpg;
}
