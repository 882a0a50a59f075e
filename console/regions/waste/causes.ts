import type { WasteCause } from '../../../lib/salt/waste.ts';

/** What salt was spent on that the water did not need. */
export interface CauseWords {
  readonly name: string;
  /** What it is, and what mends it: a sentence or two. */
  readonly about: string;
}

/** The causes in words; by lib/salt/waste.ts, which books each pound under one of them at the most. */
export const CAUSE_WORDS: Readonly<Record<WasteCause, CauseWords>> = {
  leak: {
    name: 'Water that never stopped',
    about:
      'Hardness of water that ran on days on which flow never stopped, beyond what the household was expected to use. Finding and closing the leak mends it.',
  },
  manual: {
    name: 'Started by hand',
    about:
      'Capacity that was left when somebody started a regeneration before it was due. Asking why they do so mends it.',
  },
  'calendar-limit': {
    name: 'Limit of days',
    about:
      'Capacity that was left when a limit of days started a regeneration. A longer limit mends it, where the water and the maker’s word allow one.',
  },
  repeated: {
    name: 'Started too early',
    about:
      'Capacity that was left when the control started before its own count was due. That is a fault: a visit to the control mends it.',
  },
  'capacity-too-low': {
    name: 'Capacity set too low',
    about:
      'The control counts on less than the bed gives at its dose. Setting the capacity that goes with the dose mends it.',
  },
  'hardness-too-high': {
    name: 'Hardness set too high',
    about:
      'The control takes the water for harder than it is. Testing the raw water and setting its hardness mends it.',
  },
  reserve: {
    name: 'Reserve',
    about:
      'Capacity that the control holds back so that water stays soft until its hour, and what is left of that day. It is the price of soft water: only a reserve that fits the household better lowers it.',
  },
  dose: {
    name: 'Dose too rich',
    about:
      'Salt of a dose beyond what an efficiency rated softener may take for the same hardness (NSF/ANSI 44). A smaller dose mends it, with regenerations more often: what-if, below, shows what else that changes.',
  },
};
