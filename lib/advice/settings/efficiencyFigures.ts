import {
  EFFICIENCY_RULES,
  type EfficiencyRule,
  judgeEfficiency,
  type RuleVerdict,
} from '../../softening/efficiency.ts';

/** Hardness removed for salt and water. */
export interface Efficiency {
  readonly grainsPerLb: number;
  readonly gallonsPerThousandGrains: number;
}

/** How some settings compare with one published rule. */
export interface RuleComparison {
  readonly rule: EfficiencyRule;
  readonly verdict: RuleVerdict;
}

const COMPARED: readonly EfficiencyRule['id'][] = ['nsf-ansi-44', 'california-2002'];

/**
 * Compares what a dose gives, whole bed for whole dose, with NSF/ANSI 44 and with California's rule of 2002. Those bind
 * what a softener is certified at, not how a household happens to use it, so that is what is compared: arithmetic, no
 * certificate. The controls here regenerate on measured volume, which both ask for.
 */
export function compareWithRules(rated: Efficiency): RuleComparison[] {
  return EFFICIENCY_RULES.filter(({ id }) => COMPARED.includes(id)).map((rule) => ({
    rule,
    verdict: judgeEfficiency(rule, { ...rated, onDemand: true }),
  }));
}
