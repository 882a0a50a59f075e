import { formatLocalDate, type LocalDate } from '../../shared/time/localDate.ts';
import { notNegative } from './errors.ts';
import type { Sourced } from './sourced.ts';
import { checkedEfficiency } from './stoichiometry.ts';

/** A published requirement on how much hardness a softener removes for its salt and water. */
export interface EfficiencyRule extends Sourced {
  readonly id: 'nsf-ansi-44' | 'california-2000' | 'california-2002' | 'california-legacy';
  readonly title: string;
  readonly minGrainsPerLb: number;
  readonly maxGallonsPerThousandGrains?: number;
  /** Regenerating on demand is required beside the salt figure, or is enough without it. */
  readonly onDemand: 'required' | 'enough';
  /** First installation date it applies to, `YYYY-MM-DD`. */
  readonly installedFrom?: string;
}

/** Grains a pound of salt that an efficiency rated softener removes at the least; its source stands in the rule. */
export const RATED_GRAINS_PER_LB = 3_350;

/** The rules, each with its source. They bind what a unit is certified at; a field figure only compares with them. */
export const EFFICIENCY_RULES: readonly EfficiencyRule[] = [
  {
    id: 'nsf-ansi-44',
    title: 'NSF/ANSI 44, efficiency rated',
    minGrainsPerLb: RATED_GRAINS_PER_LB,
    maxGallonsPerThousandGrains: 5,
    onDemand: 'required',
    source: 'US DOE/PNNL Building America Solution Center, Water Softeners, which quotes NSF/ANSI 44',
    basis: 'read in a text that quotes the source',
  },
  {
    id: 'california-2000',
    title: 'California, installed in 2000 or 2001',
    minGrainsPerLb: 3_350,
    onDemand: 'required',
    installedFrom: '2000-01-01',
    source: 'Cal. Health & Safety Code 116785(b)(1)-(2)',
    basis: 'read in the source',
  },
  {
    id: 'california-2002',
    title: 'California, installed since 2002',
    minGrainsPerLb: 4_000,
    onDemand: 'required',
    installedFrom: '2002-01-01',
    source: 'Cal. Health & Safety Code 116785(b)(1)-(2)',
    basis: 'read in the source',
  },
  {
    id: 'california-legacy',
    title: 'California, units from before 1980 in salinity-limited areas',
    minGrainsPerLb: 2_850,
    onDemand: 'enough',
    source: 'Cal. Health & Safety Code 116790 (Stats. 1995 ch. 415)',
    basis: 'read in the source',
  },
];

/** What a unit achieves. */
export interface MeasuredEfficiency {
  /** Hardness removed per pound of NaCl. */
  readonly grainsPerLb: number;
  /** Water of a regeneration per 1,000 grains removed; left out where it is not known. */
  readonly gallonsPerThousandGrains?: number | undefined;
  /** Regenerates on measured volume or sensed exhaustion, not by the calendar alone. */
  readonly onDemand: boolean;
}

/** Whether a rule's figures are met; unknown where only a figure that was not measured could tell. */
export type RuleVerdict = 'met' | 'not met' | 'unknown';

/**
 * Compares a unit with a rule. The comparison is arithmetic, not a ruling: the local authority has the last word.
 * Throws `efficiency-impossible` above the NaCl ceiling, `efficiency-out-of-range` for negative water.
 */
export function judgeEfficiency(rule: EfficiencyRule, measured: MeasuredEfficiency): RuleVerdict {
  const enoughSalt = checkedEfficiency(measured.grainsPerLb, 1) >= rule.minGrainsPerLb;
  if (rule.onDemand === 'enough') return enoughSalt || measured.onDemand ? 'met' : 'not met';
  if (!enoughSalt || !measured.onDemand) return 'not met';
  if (rule.maxGallonsPerThousandGrains === undefined) return 'met';
  if (measured.gallonsPerThousandGrains === undefined) return 'unknown';
  const water = notNegative(measured.gallonsPerThousandGrains, 'gal per 1,000 gr', 'efficiency-out-of-range');
  return water <= rule.maxGallonsPerThousandGrains ? 'met' : 'not met';
}

/** The California rule for a unit by the date of its installation; undefined for one from before 2000. */
export function californiaRule(installedOn: LocalDate): EfficiencyRule | undefined {
  const date = formatLocalDate(installedOn);
  return EFFICIENCY_RULES.findLast((rule) => rule.installedFrom !== undefined && rule.installedFrom <= date);
}
