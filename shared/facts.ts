import type { AlertActName } from './events.ts';
import type { Instant } from './time/instant.ts';
import type { LocalDate } from './time/localDate.ts';

/** What every accepted event carries, whatever its kind. */
interface Accepted {
  /** The event's own id; with its unit it names the event for ever. */
  id: string;
  /** When it happened. */
  time: Instant;
  /** When the service first knew of it: `recordedtime` where given, else `time`. */
  known: Instant;
  /** Where it stands in the unit's story: for a flow day the end of that local day, otherwise `time`. */
  at: Instant;
}

/** The treated water of one local day. */
export interface FlowDay extends Accepted {
  kind: 'flow-day';
  date: LocalDate;
  gallons: number;
  peakGpm?: number | undefined;
  flowHours?: number | undefined;
  longestFlowMinutes?: number | undefined;
  registerGallons?: number | undefined;
}

/** One regeneration, from its start. */
export interface Regeneration extends Accepted {
  kind: 'regeneration';
  trigger: 'metered' | 'manual' | 'override' | 'unknown';
  durationMinutes?: number | undefined;
  saltBeforeLb?: number | undefined;
  saltAfterLb?: number | undefined;
  brineGallons?: number | undefined;
  waterGallons?: number | undefined;
  /** The control's own count of treated water since the regeneration before. */
  gallonsSince?: number | undefined;
}

/** What is programmed on the control. */
export interface Settings extends Accepted {
  kind: 'settings';
  hardnessGpg: number;
  capacityGrains: number;
  regenerationHour: number;
  /** What the control's clock showed at `time`, in minutes after midnight. */
  clockMinutes?: number | undefined;
  saltDoseLb?: number | undefined;
  mode?: 'service' | 'setup' | undefined;
}

/** One reading of the salt in the tank. */
export interface SaltLevel extends Accepted {
  kind: 'salt-level';
  lb: number;
}

/** A power failure that is over. */
export interface Power extends Accepted {
  kind: 'power';
  lostAt: Instant;
  restoredAt: Instant;
  settingsKept: boolean;
}

/** A technician's visit. */
export interface ServiceVisit extends Accepted {
  kind: 'service-visit';
  technician: string;
  findings: string[];
  work: string[];
  /** Parts that were used. */
  parts?: string[] | undefined;
  saltAddedLb?: number | undefined;
  rawHardnessGpg?: number | undefined;
  coldHardnessGpg?: number | undefined;
  hotHardnessGpg?: number | undefined;
  notes?: string | undefined;
}

/** The household's word on a period, both dates inclusive: it is away, or it was there and drew water. */
export interface Presence extends Accepted {
  kind: 'away' | 'at-home';
  from: LocalDate;
  to: LocalDate;
}

/** What somebody at the company did about an alert, or about a unit as a whole. */
export interface AlertAct extends Accepted {
  kind: 'alert-act';
  act: AlertActName;
  by: string;
  /** The alert; undefined where the act is about the unit. */
  alertId?: string | undefined;
  /** Until when it is to hold; undefined for good. */
  until?: Instant | undefined;
}

/** The household was asked whether it is away, or answered that it is not sure. Other answers are words on presence. */
export interface Question extends Accepted {
  kind: 'question';
  step: 'asked' | 'not-sure';
}

/** An accepted event in the trade's units: all that the thinking ever sees. */
export type Fact =
  | FlowDay
  | Regeneration
  | Settings
  | SaltLevel
  | Power
  | ServiceVisit
  | Presence
  | AlertAct
  | Question;
