import type { Forecast } from '../../shared/forecasts.ts';
import type { Unit } from '../../shared/registry.ts';
import { formatLocalDate, type LocalDate } from '../../shared/time/localDate.ts';
import { shareBefore } from '../demand/dayShare.ts';
import {
  type DayQuantiles,
  exhaustionDays,
  overrunProbability,
  regenerationDays,
} from '../demand/passage.ts';
import { nextDayUse } from '../demand/predictive.ts';
import { availableGrains } from './bed.ts';
import { expectedDrawLb } from './brineDraw.ts';
import { believedGallons } from './control.ts';
import { actingCapacityGallons, actingHour, reserveOf } from './controlCount.ts';
import type { UnitState } from './state.ts';

/** US gallons that the bed truly has left; negative when overrun. */
export function remainingGallons(state: UnitState): number {
  const { bed, draw } = state;
  const left = availableGrains(bed, expectedDrawLb(draw, bed.saltDoseLb)) - bed.usedGrains;
  return left / state.compensatedHardnessGpg;
}

/** US gallons that the control goes by: as programmed, or as learnt from when it regenerates. */
export function controlCapacityGallons(state: UnitState): number {
  return actingCapacityGallons(state.count, believedGallons(state.programmed));
}

/** A control that was due on so many mornings and did not regenerate is not expected to on the next. */
const IDLE_MORNINGS = 3;
const NEVER = { p10: null, p50: null, p90: null };

/** What is expected of a unit after the last local day counted, `asOf`. */
export function outlook(unit: Unit, state: UnitState, asOf: LocalDate): Forecast {
  const { household, count } = state;
  const remaining = remainingGallons(state);
  const reserve = reserveOf(count, unit.alternating);
  const hour = actingHour(count, state.programmed.regenerationHour);
  const capacityGallons = controlCapacityGallons(state);
  const control = {
    believedGallons: capacityGallons - count.gallons,
    lastSevenDays: count.lastDays,
    shareBeforeHour: shareBefore(hour),
    reserve: !unit.alternating,
    remainingGallons: remaining,
  };
  // It does not regenerate by itself; the bed runs out before somebody comes.
  const idle = !state.inService || count.missedMornings >= IDLE_MORNINGS || !Number.isFinite(capacityGallons);
  const ranOut = state.bed.exhaustedOn;
  const exhaustion =
    remaining <= 0 ? atOnce(ranOut ?? asOf) : dates(exhaustionDays(household, asOf, remaining), asOf);
  return {
    unitId: unit.unitId,
    asOf: formatLocalDate(asOf),
    nextDayUse: nextDayUse(household, asOf),
    remaining,
    reserve,
    nextRegeneration: idle ? NEVER : dates(regenerationDays(household, asOf, control), asOf),
    exhaustion,
    overrunProbability: idle ? 1 : overrunProbability(household, asOf, control),
  };
}

function dates(days: DayQuantiles, asOf: LocalDate) {
  const p10 = dateOf(days.p10, asOf);
  const p50 = days.p50 === days.p10 ? p10 : dateOf(days.p50, asOf);
  return { p10, p50, p90: days.p90 === days.p50 ? p50 : dateOf(days.p90, asOf) };
}

function atOnce(date: LocalDate) {
  const text = formatLocalDate(date);
  return { p10: text, p50: text, p90: text };
}

function dateOf(days: number | null, asOf: LocalDate): string | null {
  return days === null ? null : formatLocalDate(asOf + days);
}
