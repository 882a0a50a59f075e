import type { AlertCause, AlertKind, Severity } from '../../shared/alerts.ts';
import type { Fact } from '../../shared/facts.ts';
import { keysOf } from '../../shared/records.ts';
import type { Unit } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
import type { UnitState } from '../unit/state.ts';

/** What an alert was told from: numbers, dates, and what they were compared with. */
export type Evidence = Record<string, number | string | boolean | null>;

/** A cause and its probability, given that the condition is real; those of one finding sum to 1. */
export interface RankedCause {
  readonly cause: AlertCause;
  readonly probability: number;
}

/** What one kind of alert sees of a unit now. */
export interface Finding {
  /** Probability of the condition being real. */
  readonly probability: number;
  /** The causes that may be behind it, the likeliest first; empty where the kind names none. */
  readonly causes: readonly RankedCause[];
  /** How soon somebody must act; null while the probability is below every threshold. */
  readonly severity: Severity | null;
  /** Whether an open episode goes on: false once the condition is over, by the kind's own hysteresis. */
  readonly lasts: boolean;
  /** One plain sentence for a dispatcher. Made only when it is needed, like the evidence. */
  readonly summary: () => string;
  readonly evidence: () => Evidence;
}

/**
 * One kind of alert. Each lives in a file of its own with its likelihood and its words; all have this shape. The schema of its
 * rules is in rules/, a file of the same name: whoever judges by rules that were read before needs no schema.
 */
export interface WatchedKind<KindRules> {
  readonly kind: AlertKind;
  /** While an episode of one of these is open, this kind is its consequence and raises nothing of its own. */
  readonly consequenceOf: readonly AlertKind[];
  /**
   * Facts of which kinds may bring about what was not there before: after others it need not look, unless one of its
   * episodes or another's is open. Left out: of all.
   */
  readonly heeds?: readonly Fact['kind'][] | undefined;
  /**
   * Of a kind that time alone may show something: the instant before which it does not, if no fact comes. From then on it
   * also looks at each local noon.
   */
  readonly wakesAt?: ((state: UnitState, rules: KindRules) => Instant) | undefined;
  /**
   * Looks at a unit; null where there is nothing to see, or where the unit carries no sensor that would tell. Units are
   * looked at after every fact and mostly are well, so what rules a finding out cheaply comes first.
   *
   * @param at the instant of the look: that at which the last fact became known, or a local noon
   * @param isOpen whether an episode of the kind is open: otherwise a finding without a severity is as good as none
   */
  look(unit: Unit, state: UnitState, rules: KindRules, at: Instant, isOpen: boolean): Finding | null;
}

/** Causes by their weights, ranked. Weights are of any scale, one of them above 0. */
export function ranked(weights: Readonly<Partial<Record<AlertCause, number>>>): RankedCause[] {
  let sum = 0;
  for (const cause of keysOf(weights)) sum += weights[cause] ?? 0;
  const causes: RankedCause[] = [];
  for (const cause of keysOf(weights)) causes.push({ cause, probability: (weights[cause] ?? 0) / sum });
  return causes.sort((a, b) => b.probability - a.probability);
}

/** The only cause that comes into question. */
export function only(cause: AlertCause): RankedCause[] {
  return [{ cause, probability: 1 }];
}

/** Probabilities from which an episode has each severity; absent ones are never reached. */
export type Thresholds = Partial<Record<Severity, number>>;

/** The severity of a probability, null below every threshold. */
export function severityOf(probability: number, { urgent, soon, routine }: Thresholds): Severity | null {
  if (urgent !== undefined && probability >= urgent) return 'urgent';
  if (soon !== undefined && probability >= soon) return 'soon';
  return routine !== undefined && probability >= routine ? 'routine' : null;
}
