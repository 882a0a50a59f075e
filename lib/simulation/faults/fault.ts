import type { AlertCause, AlertKind } from '../../../shared/alerts.ts';
import type { Condition } from '../condition.ts';

/** A kind of alert with the cause that it should name. */
export interface Naming {
  readonly kind: AlertKind;
  /** Null for a kind that names none. */
  readonly cause: AlertCause | null;
}

export interface Fault {
  /** What should be said of it. `strength`, 0 to 1, also decides between variants. */
  readonly named: (strength: number) => Naming;
  /** What else may be rightly said of it. */
  readonly also: readonly Naming[];
  /** The cause of the overruns that it leads to. */
  readonly overrun: AlertCause;
  /** When it may begin: at midnight, or when somebody is there to change a setting. */
  readonly by: 'nature' | 'hand';
  /** What it makes of a sound unit `ageDays` after it began. */
  readonly spoil: (
    healthy: Condition,
    strength: number,
    typicalGallons: number,
    ageDays: number,
  ) => Partial<Condition>;
  /** What first tells of it: use that is not counted, a whole day, the next regeneration; else what it leads to. */
  readonly showsBy?: 'day' | 'regeneration';
  /** Whether power was away before it began. */
  readonly followsPowerFailure?: (strength: number) => boolean;
  /** What the technician writes down who mends it. */
  readonly work: string;
}
