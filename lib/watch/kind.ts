import type { AlertCause, AlertKind, Severity } from '../../shared/alerts.ts';
import type { Unit } from '../../shared/registry.ts';
import type { UnitState } from '../unit/state.ts';

/** What an alert was told from: numbers, dates, and what they were compared with. */
export type Evidence = Record<string, number | string | boolean | null>;

/** What one kind of alert sees of a unit now. */
export interface Finding {
  /** Probability of the condition being real. */
  probability: number;
  /** The likeliest cause; null where the evidence names none. */
  cause: AlertCause | null;
  /** How soon somebody must act; null while the probability is below every threshold. */
  severity: Severity | null;
  /** Whether an open episode goes on: false once the condition is over, by the kind's own hysteresis. */
  lasts: boolean;
  /** One plain sentence for a dispatcher. Made only when it is needed, like the evidence. */
  summary: () => string;
  evidence: () => Evidence;
}

/**
 * One kind of alert. Each lives in a file of its own with its rules, its likelihood and its words; all have this
 * shape.
 */
export interface WatchedKind<KindRules> {
  kind: AlertKind;
  /** While an episode of one of these is open, this kind is its consequence and raises nothing of its own. */
  consequenceOf: readonly AlertKind[];
  /** Looks at a unit; null where there is nothing to see, or where the unit carries no sensor that would tell. */
  look(unit: Unit, state: UnitState, rules: KindRules): Finding | null;
}

/** Probabilities from which an episode has each severity; absent ones are never reached. */
export type Thresholds = Partial<Record<Severity, number>>;

/** The severity of a probability, null below every threshold. */
export function severityOf(probability: number, thresholds: Thresholds): Severity | null {
  const reached = (severity: Severity) => probability >= (thresholds[severity] ?? Number.POSITIVE_INFINITY);
  if (reached('urgent')) return 'urgent';
  if (reached('soon')) return 'soon';
  return reached('routine') ? 'routine' : null;
}
