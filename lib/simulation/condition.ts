import type { Programmed } from '../../shared/registry.ts';

/** What may be wrong with a unit; nothing is, at first. */
export interface Condition {
  readonly programmed: Programmed;
  readonly mode: 'service' | 'setup';
  /** Share of the drawn water that the meter registers. */
  readonly registered: number;
  /** What a fixture that never shuts draws on top of the household, US gallons a minute. */
  readonly leakGpm: number;
  /** Whether the control regenerates when it is due. */
  readonly regenerates: boolean;
  /** How much longer a regeneration takes than usual, and the share of them that do. */
  readonly slowness: number;
  readonly slowShare: number;
  /** Regenerates at every so many-th of its hours though it is not due; 0 for never. */
  readonly repeatsEveryDays: number;
  /** Probability that somebody starts a regeneration by hand on a day. */
  readonly byHandADay: number;
  /** How far the control's clock is ahead, hours. */
  readonly clockAheadHours: number;
  /** Whether liquid is drawn from the salt tank, and whether there is salt in it. */
  readonly brineDrawn: boolean;
  readonly saltDissolves: boolean;
  /** Whether the household puts salt in. */
  readonly refilled: boolean;
  /** Whether the unit sends anything. */
  readonly reports: boolean;
}

/** What is right with every unit as its company set it up. */
export function healthy(programmed: Programmed): Condition {
  return {
    programmed,
    mode: 'service',
    registered: 1,
    leakGpm: 0,
    regenerates: true,
    slowness: 1,
    slowShare: 1,
    repeatsEveryDays: 0,
    byHandADay: 0,
    clockAheadHours: 0,
    brineDrawn: true,
    saltDissolves: true,
    refilled: true,
    reports: true,
  };
}
