import { monthNumber } from '../../../shared/time/month.ts';
import { bedCapacityGrains } from '../../softening/capacity.ts';
import { EFFICIENCY_RULES, type EfficiencyRule, judgeEfficiency } from '../../softening/efficiency.ts';
import { isSofteningError } from '../../softening/errors.ts';
import { regenerationGallons } from '../../softening/regenerationWater.ts';
import type { UnitMonth } from '../unitMonths.ts';
import type { EfficiencyCount } from './saltAccount.ts';

/** Whether one unit meets each published figure; null where it cannot be judged. */
export type EfficiencyVerdict = { readonly nsf44: boolean; readonly california2002: boolean } | null;

/** How many months in use are judged together: of every season one. */
const MONTHS_IN_USE = 12;

const NSF44 = ruleNamed('nsf-ansi-44');
const CALIFORNIA_2002 = ruleNamed('california-2002');

/** A count to add verdicts to. */
export class EfficiencyTally {
  #judged = 0;
  #nsf44 = 0;
  #california2002 = 0;

  add(verdict: EfficiencyVerdict) {
    if (!verdict) return;
    this.#judged += 1;
    if (verdict.nsf44) this.#nsf44 += 1;
    if (verdict.california2002) this.#california2002 += 1;
  }

  get count(): EfficiencyCount {
    return { judged: this.#judged, nsf44: this.#nsf44, california2002: this.#california2002 };
  }
}

/**
 * A unit as it is set in each of its months: what a whole bed gives for a whole dose, by the capacity curve, with the
 * water of a regeneration as last reported. Without that, or without a dose that the curve knows there is
 * none to judge.
 */
export function asSetByMonth(months: readonly UnitMonth[]): EfficiencyVerdict[] {
  let reportedGallons: number | null = null;
  return months.map((month) => {
    reportedGallons = reportedRegenerationGallons(month) ?? reportedGallons;
    const { saltDoseLb, resinCubicFeet } = month;
    if (saltDoseLb === null) return null;
    return judged(() => ({
      grains: bedCapacityGrains({ resinCubicFeet, saltDoseLb }),
      saltLb: saltDoseLb,
      gallons: reportedGallons,
    }));
  });
}

/**
 * A unit as it was used in the 12 months up to each of its months: grains removed over the salt and water spent on them,
 * days without a report with what stands for them. Doses count as on record, since a unit without a level sensor does
 * not say what it drew of them.
 *
 * @param leastDays so many days must have been reported, or it is not judged
 */
export function inUseByMonth(months: readonly UnitMonth[], leastDays: number): EfficiencyVerdict[] {
  return months.map(({ month }) => {
    const last = monthNumber(month);
    const year = months.filter((each) => {
      const number = monthNumber(each.month);
      return number <= last && number > last - MONTHS_IN_USE;
    });
    const sum = (of: (each: UnitMonth) => number) => year.reduce((total, each) => total + of(each), 0);
    if (sum(({ daysCounted }) => daysCounted) < leastDays) return null;
    return judged(() => ({
      grains: sum(({ grainsRemoved, imputedGrains }) => grainsRemoved + imputedGrains),
      saltLb: sum((each) => each.measuredSaltLb + each.inferredSaltLb + each.imputedSaltLb),
      gallons:
        sum((each) => each.regenerationGallons) > 0
          ? sum((each) => each.regenerationGallons + each.inferredRegenerationGallons)
          : null,
    }));
  });
}

/**
 * Without a control that says what water a regeneration takes nobody knows whether the figure for water is met.
 * What is physically impossible (more grains than the salt can exchange, a dose beyond the curve) or without meaning (no
 * salt, no grains) is a fault of the data: it is not judged, and it stops nobody.
 */
function judged(spent: () => { grains: number; saltLb: number; gallons: number | null }): EfficiencyVerdict {
  try {
    const { grains, saltLb, gallons } = spent();
    if (!(grains > 0 && saltLb > 0) || gallons === null) return null;
    const measured = {
      grainsPerLb: grains / saltLb,
      gallonsPerThousandGrains: gallons / (grains / 1000),
      // A metered control is asked by its count; a limit of days only comes on top of that.
      onDemand: true,
    };
    return {
      nsf44: judgeEfficiency(NSF44, measured) === 'met',
      california2002: judgeEfficiency(CALIFORNIA_2002, measured) === 'met',
    };
  } catch (error) {
    if (isSofteningError(error)) return null;
    throw error;
  }
}

/** Water of a regeneration as the control says, US gallons; null where none did. */
function reportedRegenerationGallons(month: UnitMonth): number | null {
  const all = month.regenerations + month.regenerationsImputed;
  const notReported = month.inferredRegenerationGallons / regenerationGallons(month.resinCubicFeet);
  const reported = all - notReported;
  // The rest of a difference of sums is no regeneration.
  return reported > 0.5 ? month.regenerationGallons / reported : null;
}

function ruleNamed(id: EfficiencyRule['id']): EfficiencyRule {
  const rule = EFFICIENCY_RULES.find((each) => each.id === id);
  if (!rule) throw new RangeError(`there is no efficiency rule ${id}`);
  return rule;
}
