import type { Unit } from '../../shared/registry.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';
import { isInMonth, isKept, type MonthAccount, newMonth } from '../salt/monthAccount.ts';
import { availableGrains, treat } from './bed.ts';
import { expectedDrawLb } from './brineDraw.ts';
import { believedGallons } from './control.ts';
import { actingCapacityGallons, countDay } from './controlCount.ts';
import type { UnitState } from './state.ts';

/** Less hard water than this in a day is rounding, US gallons. */
const CRUMB_GALLONS = 1e-6;

/** Opens the account that a local day belongs to; the one before is put with the closed ones. */
export function enterMonth(unit: Unit, state: UnitState, date: LocalDate, closed: MonthAccount[]) {
  if (isInMonth(state.month, date)) return;
  if (isKept(state.month)) closed.push(state.month);
  state.month = newMonth(date, unit, state.bed.saltDoseLb);
}

/** Charges both ledgers, the bed's and the control's, and the account with one local day. */
export function takeDay(unit: Unit, state: UnitState, date: LocalDate, gallons: number, imputed: boolean) {
  const { bed, count, month } = state;
  // The day of the last regeneration may never have been reported.
  const regenerated = state.regeneratedOn === date;
  if (!regenerated) bed.shareToCome = 1;
  const drawnLb = expectedDrawLb(state.draw, bed.saltDoseLb);
  const share = bed.shareToCome;
  const left = Math.max(0, availableGrains(bed, drawnLb) - bed.usedGrains);
  // What came before today's regeneration came through the cycle that it ended.
  const leftBefore = bed.previous ? Math.max(0, bed.previous.availableGrains - bed.previous.usedGrains) : 0;
  const { rawHardnessGpg, compensatedHardnessGpg: hardnessGpg, programmed, inService } = state;
  let softened = Math.min(gallons * share, left / hardnessGpg);
  if (share < 1) softened += Math.min(gallons * (1 - share), leftBefore / hardnessGpg);
  month.saltDoseLb = bed.saltDoseLb;
  if (imputed) {
    month.daysImputed += 1;
    month.imputedGallons += gallons;
    month.imputedGrains += softened * rawHardnessGpg;
  } else {
    month.daysCounted += 1;
    month.treatedGallons += gallons;
    month.grainsRemoved += softened * rawHardnessGpg;
    if (gallons - softened > CRUMB_GALLONS) {
      month.hardGallons += gallons - softened;
      month.hardDays += 1;
    }
  }
  treat(bed, date, { gallons, hardnessGpg, imputed }, drawnLb);
  const capacity = actingCapacityGallons(count, believedGallons(programmed));
  const level = state.tank.since;
  countDay(
    count,
    date,
    { gallons, share, regenerated, imputed, inService, level },
    capacity,
    unit.alternating,
  );
  state.lastDate = date;
}
