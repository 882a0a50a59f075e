import { NO_SUMS, SUMMED, type Sums } from '../monthAccount.ts';
import type { UnitMonth } from '../unitMonths.ts';
import { addWasted, type Wasted } from '../waste.ts';
import { EfficiencyTally, type EfficiencyVerdict } from './efficiencyCount.ts';

/** All that an account is made of, of a region's month: sums over its units, of a size that does not grow with them. */
export class RegionSum {
  readonly region: string;
  readonly month: string;
  units = 0;
  unitsReporting = 0;
  unitsMeasured = 0;
  daysExpected = 0;
  /** Sum over units of the square of doses that no sensor measured, reported or imputed, lb². */
  unmeasuredDoseSquares = 0;
  /** Variance of the grains imputed. */
  imputedGrainsVariance = 0;
  wasted: Wasted = {};
  readonly asSet = new EfficiencyTally();
  readonly inUse = new EfficiencyTally();
  readonly sums: Sums = { ...NO_SUMS };

  constructor(region: string, month: string) {
    this.region = region;
    this.month = month;
  }

  add(unit: UnitMonth, verdicts: { asSet: EfficiencyVerdict; inUse: EfficiencyVerdict }) {
    for (const name of SUMMED) this.sums[name] += unit[name];
    this.units += 1;
    if (unit.daysCounted > 0) this.unitsReporting += 1;
    if (unit.measuredDoseLb > 0) this.unitsMeasured += 1;
    this.daysExpected += unit.daysExpected;
    this.unmeasuredDoseSquares += (unit.inferredSaltLb + unit.imputedSaltLb) ** 2;
    if (unit.imputedGallons > 0) {
      const grainsPerGallon = unit.imputedGrains / unit.imputedGallons;
      this.imputedGrainsVariance += unit.imputedGallonsVariance * grainsPerGallon ** 2;
    }
    this.wasted = addWasted(this.wasted, unit.wasted);
    this.asSet.add(verdicts.asSet);
    this.inUse.add(verdicts.inUse);
  }
}
