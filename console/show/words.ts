import type { AlertCause, AlertKind, Severity } from '../../shared/alerts.ts';
import type { Role } from '../api/types.ts';

/** What an alert is of, in the words of the trade. */
export const KIND_WORDS: Readonly<Record<AlertKind, string>> = {
  'no-flow': 'No flow registered',
  'low-registration': 'Meter counts too little',
  'no-salt-draw': 'Regeneration without salt',
  overrun: 'Run past capacity',
  'missed-regeneration': 'Regeneration missed',
  'early-regeneration': 'Regenerates too early',
  'setting-mismatch': 'Settings do not fit the bed',
  'clock-off': 'Clock is wrong',
  'long-regeneration': 'Regeneration too long',
  'continuous-flow': 'Water never stops',
  'salt-low': 'Salt is running low',
  'silent-unit': 'Nothing heard of it',
};

/** What may have brought it about. */
export const CAUSE_WORDS: Readonly<Record<AlertCause, string>> = {
  'meter-stalled': 'meter stalled',
  'meter-obstructed': 'meter obstructed',
  'tank-empty': 'brine tank empty',
  'salt-bridged': 'salt bridged',
  'brine-not-drawn': 'brine not drawn',
  'regeneration-missed': 'regeneration missed',
  'capacity-setting': 'capacity set wrong',
  'no-salt-draw': 'no salt drawn',
  'reserve-short': 'reserve too short',
  'meter-fault': 'meter at fault',
  'not-in-service': 'not in service',
  'drive-failed': 'drive failed',
  repeated: 'repeated',
  manual: 'started by hand',
  'capacity-too-high': 'capacity set too high',
  'capacity-too-low': 'capacity set too low',
  'hardness-too-low': 'hardness set too low',
  'hardness-too-high': 'hardness set too high',
  'out-of-range': 'out of range',
  'twelve-hours': 'twelve hours off',
  drift: 'drifting',
  leak: 'leak',
};

/** How soon somebody must act. */
export const SEVERITY_WORDS: Readonly<Record<Severity, string>> = {
  urgent: 'Urgent',
  soon: 'Soon',
  routine: 'Routine',
};

export const ROLE_WORDS: Readonly<Record<Role, string>> = {
  dispatcher: 'Dispatcher',
  technician: 'Technician',
  analyst: 'Analyst',
  owner: 'Owner',
};

/** How sure, in words that go with a percentage; where the words change is our own choice. */
export function sureness(probability: number): string {
  if (probability >= 0.95) return 'Almost certain';
  if (probability >= 0.8) return 'Very likely';
  if (probability >= 0.6) return 'Likely';
  if (probability >= 0.4) return 'Even odds';
  if (probability >= 0.2) return 'Possible';
  return 'Unlikely';
}

/** A code as words, where we have none of our own for it. */
export function plain(code: string): string {
  return code.replaceAll('-', ' ');
}

/** `1 day`, `3 days`. */
export function days(count: number): string {
  return count === 1 ? '1 day' : `${count} days`;
}
