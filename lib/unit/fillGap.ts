import type { Unit } from '../../shared/registry.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';
import { expectedUse, type Household, skip } from '../demand/household.ts';
import { HORIZON_DAYS, useAhead } from '../demand/useAhead.ts';
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
  const gap = new Gap(unit, state, state.lastDate);
  const ledgerFrom = Math.max(state.lastDate + 1, date - LONGEST_GAP_DAYS);
  // Before it was installed there was nothing to estimate, whatever an odd date says.
  const estimatedFrom = Math.max(date - LONGEST_SILENCE_DAYS, unit.installedOn);
  const from = Math.max(state.lastDate + 1, Math.min(estimatedFrom, ledgerFrom));
  for (let missing = from; missing < date; missing++) {
    enterMonth(unit, state, missing, closed);
    const gallons = expectedUse(state.household, missing);
    if (missing < ledgerFrom) gap.estimate(gallons, wasSound);
    else gap.take(missing, gallons, wasSound);
    gap.vary(missing);
    state.household = skip(state.household, missing);
  }
}

/** One stretch of days without a report, while it is filled. */
class Gap {
  readonly #unit: Unit;
  readonly #state: UnitState;
  /** The last local day before it, and the variance of the use of the days since that are varied, gal². */
  readonly #lastDate: LocalDate;
  readonly #varianceSince: (days: number) => number;
  #variance = 0;
  #isVaried = false;

  constructor(unit: Unit, state: UnitState, lastDate: LocalDate) {
    this.#unit = unit;
    this.#state = state;
    this.#lastDate = lastDate;
    this.#varianceSince = varianceAhead(state.household, lastDate);
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
    const { month, bed, rawHardnessGpg } = this.#state;
    month.daysImputed += 1;
    month.imputedGallons += gallons;
    if (!wasSound) return;
    // A bed that salt does not restore softens nothing for so long.
    month.imputedGrains += gallons * rawHardnessGpg * Math.min(1, this.#doseLb / bed.saltDoseLb);
    this.#book(gallons / this.#cycleGallons);
  }

  /** What is not known of the use up to a day, by as much as is not known more than the day before. */
  vary(date: LocalDate) {
    const { month } = this.#state;
    const variance = this.#varianceSince(date - this.#lastDate);
    const more = Math.max(0, variance - this.#variance);
    month.imputedGallonsVariance += more;
    month.imputedSaltVariance += more * this.#lbPerGallon ** 2;
    if (!this.#isVaried) month.imputedSaltVariance += PHASE_VARIANCE * this.#doseLb ** 2;
    this.#isVaried = true;
    this.#variance = Math.max(variance, this.#variance);
  }

  get #doseLb(): number {
    const { draw, bed } = this.#state;
    return expectedDrawLb(draw, bed.saltDoseLb);
  }

  /**
   * Water between two regenerations, US gallons; infinite where the control would never regenerate. One that is asked
   * once a day is due for half a day by then, on the mean.
   */
  get #cycleGallons(): number {
    const { count, programmed, household } = this.#state;
    const { alternating } = this.#unit;
    const capacity = actingCapacityGallons(count, believedGallons(programmed));
    const late = alternating ? 0 : household.level / 2;
    return Math.max(household.level, capacity - reserveOf(count, alternating) + late);
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

/** Variance of a household's use of the next days together, gal²; of more than the model looks ahead, as it went on last. */
function varianceAhead(household: Household, lastDate: LocalDate): (days: number) => number {
  const within = (days: number) => useAhead(household, lastDate).deviation(days) ** 2;
  return (days) => {
    if (days <= HORIZON_DAYS) return within(days);
    const last = within(HORIZON_DAYS);
    return last + (days - HORIZON_DAYS) * (last - within(HORIZON_DAYS - 1));
  };
}

/** A regeneration that nobody reported; its day may be another, so a day's use stands as a guess. */
function assumeRegeneration(unit: Unit, state: UnitState, gallons: number) {
  const { bed, count } = state;
  endCount(count, { metered: false, hour: 0, countedGallons: count.gallons, alternating: unit.alternating });
  count.isAssumed = true;
  regenerate(bed, expectedDrawLb(state.draw, bed.saltDoseLb), 0);
  bed.imputedGrains = gallons * state.compensatedHardnessGpg;
}
