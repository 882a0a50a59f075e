import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import type { AlertCause } from '../../shared/alerts.ts';
import { controlCapacityGallons } from '../unit/outlook.ts';
import { dwindlingRatio } from '../unit/registration.ts';
import type { UnitState } from '../unit/state.ts';
import type { OverrunCycle } from './overrunCycle.ts';
import type { OverrunRules } from './rules/overrun.ts';

/** What may be behind an overrun. */
export interface OverrunCauses {
  readonly weights: Partial<Record<AlertCause, number>>;
  /** Probability that nobody need act: a setting that was corrected, a control back in service, beds that took turns. */
  readonly putRight: number;
}

/** A control that is known to be set too high is so by about this, as a logarithm. */
const SETTING_BLUR = 0.03;
const DAYS_A_YEAR = 365;
/** A sticking meter is told by the few days before. */
const DWINDLING_DAYS = 6;

/**
 * The causes of an overrun, each weighed by how usual it is and how well it explains what is seen. A day of great use
 * needs no fault at all, but explains no bed that ran out on the mornings that were let pass.
 */
export function overrunCauses(state: UnitState, cycle: OverrunCycle, rules: OverrunRules): OverrunCauses {
  const noSalt = cycle.withoutSalt;
  const tooHigh = settingTooHigh(state, rules);
  const meter = meterFault(state, rules);
  const otherwise = (1 - noSalt) * (1 - tooHigh);
  const { setting, missed, reserve, putRight } = shares(state, cycle);
  return {
    weights: {
      'no-salt-draw': noSalt,
      'capacity-setting': (1 - noSalt) * tooHigh + otherwise * setting,
      'regeneration-missed': otherwise * missed,
      'reserve-short': otherwise * reserve * (1 - meter),
      'meter-fault': otherwise * reserve * meter,
    },
    putRight: putRight ? otherwise : 0,
  };
}

function shares({ inService, count }: UnitState, cycle: OverrunCycle) {
  const { lasting, judged, beforeDue, wasNotDue, tookTurns } = cycle;
  const wasIdle = lasting && count.idleMornings > 0;
  if (wasIdle || (lasting && !inService)) return { setting: 0, missed: 1, reserve: 0, putRight: inService };
  if (tookTurns) return { setting: 0, missed: 0, reserve: 1, putRight: true };
  if (wasNotDue) return { setting: 1, missed: 0, reserve: 0, putRight: true };
  if (!judged) return { setting: 0, missed: 0, reserve: 1, putRight: false };
  const reserve = judged.notDue + judged.unreported * beforeDue;
  const sum = judged.setOtherwise + judged.failed + reserve;
  return {
    setting: judged.setOtherwise / sum,
    missed: judged.failed / sum,
    reserve: reserve / sum,
    putRight: false,
  };
}

/** Probability that the control goes by more than the bed gives. */
function settingTooHigh(state: UnitState, rules: OverrunRules): number {
  const trueGallons = state.bed.capacityGrains / state.compensatedHardnessGpg;
  const over = Math.log(controlCapacityGallons(state) / trueGallons);
  return normalCdf(over, Math.log(1 + rules.settingTolerance), SETTING_BLUR);
}

/** Probability of a meter that has begun to stick: its control counts less than flows. */
function meterFault({ registration, household }: UnitState, rules: OverrunRules): number {
  const odds =
    ((rules.meterFaultsPerUnitYear * DWINDLING_DAYS) / DAYS_A_YEAR) *
    dwindlingRatio(registration, Math.sqrt(household.spread));
  return odds / (1 + odds);
}
