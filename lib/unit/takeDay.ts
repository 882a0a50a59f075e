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
  state.month = { ...newMonth(date, unit), saltDoseLb: state.bed.saltDoseLb };
}

/** Charges both ledgers, the bed's and the control's, and the account with one local day. */
export function takeDay(unit: Unit, state: UnitState, date: LocalDate, gallons: number, imputed: boolean) {
  const { bed, count, month } = state;
  // The day of the last regeneration may never have been reported.
  if (state.regeneratedOn !== date) bed.shareToCome = 1;
  const drawnLb = expectedDrawLb(state.draw, bed.saltDoseLb);
  const share = bed.shareToCome;
  const left = Math.max(0, availableGrains(bed, drawnLb) - bed.usedGrains);
  // What came before today's regeneration came through the cycle that it ended.
  const leftBefore = bed.previous ? Math.max(0, bed.previous.availableGrains - bed.previous.usedGrains) : 0;
  const softenedOf = (part: number, grains: number) =>
    Math.min(gallons * part, grains / state.compensatedHardnessGpg);
  const softened = softenedOf(share, left) + (share < 1 ? softenedOf(1 - share, leftBefore) : 0);
  month.saltDoseLb = bed.saltDoseLb;
  if (imputed) {
    month.daysImputed += 1;
    month.imputedGallons += gallons;
    month.imputedGrains += softened * state.rawHardnessGpg;
  } else {
    month.daysCounted += 1;
    month.treatedGallons += gallons;
    month.grainsRemoved += softened * state.rawHardnessGpg;
    if (gallons - softened > CRUMB_GALLONS) {
      month.hardGallons += gallons - softened;
      month.hardDays += 1;
    }
  }
  treat(bed, date, { gallons, hardnessGpg: state.compensatedHardnessGpg, imputed }, drawnLb);
  const capacity = actingCapacityGallons(count, believedGallons(state.programmed));
  const regenerated = state.regeneratedOn === date;
  countDay(
    count,
    date,
    { gallons, share, regenerated, imputed, inService: state.inService, level: state.tank.since },
    capacity,
    unit.alternating,
  );
  state.lastDate = date;
}
