import { settledBounds } from '../unit/controlCount.ts';
import type { UnitState } from '../unit/state.ts';

/** Cycles in a row, the last one among them, that ran over. */
export interface OverrunPattern {
  readonly cycles: number;
  /** Their mean share over what the bed gives. */
  readonly share: number;
}

/** What makes a pattern. */
export interface PatternRules {
  /** So many cycles in a row that ran over by this share at least. */
  readonly patternCycles: number;
  readonly patternShare: number;
  /** By shares that differ by no more than this. */
  readonly patternSpread: number;
}

/** The pattern in which soft days give way to hard days, cycle after cycle; null where there is none. */
export function overrunPattern(state: UnitState, rules: PatternRules): OverrunPattern | null {
  const trueGallons = state.bed.capacityGrains / state.compensatedHardnessGpg;
  const bounds = settledBounds(state.count);
  let cycles = 0;
  let sum = 0;
  let least = Number.POSITIVE_INFINITY;
  let most = 0;
  for (let index = bounds.length - 1; index >= 0; index--) {
    const share = (bounds[index]?.countedGallons ?? 0) / trueGallons - 1;
    least = Math.min(least, share);
    most = Math.max(most, share);
    if (share < rules.patternShare || most - least > rules.patternSpread) break;
    cycles += 1;
    sum += share;
  }
  return cycles < rules.patternCycles ? null : { cycles, share: sum / cycles };
}
