import type { Fact } from '../../../shared/facts.ts';
import type { Unit } from '../../../shared/registry.ts';
import type { FoldRules } from '../foldRules.ts';
import type { UnitState } from '../state.ts';

/** What a fact came into. */
export interface Seen {
  readonly unit: Unit;
  readonly rules: FoldRules;
  /** The unit after the fact, except for its memories: those are as they were before it. */
  readonly state: UnitState;
  /** For a flow day: what was expected of it with the household at home, before it was known. US gallons. */
  readonly expectedGallons: number;
}

/**
 * What is remembered of a unit beside its ledgers, for one kind of alert or a few: plain data that JSON carries, of a
 * size that does not grow with the unit's history.
 */
export interface Memory<Kept> {
  /** Of a unit before its first fact. */
  start(unit: Unit): Kept;
  /**
   * Takes in a fact and returns what is kept from now on: `kept` itself where the fact tells nothing, or where this is a
   * {@link WrittenMemory}.
   */
  observe(kept: Kept, fact: Fact, seen: Seen): Kept;
}

/**
 * One that changes with nearly every fact: `observe` writes to what it is given, which must be the caller's own. All
 * others never write to anything once it is made.
 */
export interface WrittenMemory<Kept> extends Memory<Kept> {
  /** A copy that shares nothing that is written to. */
  copy(kept: Kept): Kept;
}
