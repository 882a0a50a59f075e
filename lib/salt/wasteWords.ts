import { RATED_GRAINS_PER_LB } from '../softening/efficiency.ts';
import type { WasteCause } from './waste.ts';

/** A cause of wasted salt in words. */
export interface WasteWords {
  readonly title: string;
  /** What is booked under it: a sentence, which says nothing of what mends it. */
  readonly about: string;
}

/** What each cause is called wherever people read of it: page, report, dictionary, method. waste.ts books by them. */
export const WASTE_WORDS: Readonly<Record<WasteCause, WasteWords>> = {
  leak: {
    title: 'Water that never stopped',
    about:
      'Hardness of water that ran on days on which flow never stopped, beyond what was expected of the household.',
  },
  manual: {
    title: 'Started by hand',
    about: 'Capacity that was left when somebody started a regeneration before it was due.',
  },
  'calendar-limit': {
    title: 'Started by a limit of days',
    about: 'Capacity that was left when a limit of days between regenerations started one.',
  },
  repeated: {
    title: 'Control started too early',
    about: 'Capacity that was left when the control started before its own count was due, which is a fault.',
  },
  'capacity-too-low': {
    title: 'Capacity set too low',
    about: 'The control counts on less than the bed gives at its dose, and regenerates what is not used up.',
  },
  'hardness-too-high': {
    title: 'Hardness set too high',
    about: 'The control counts the water as harder than it is, and regenerates what is not used up.',
  },
  reserve: {
    title: 'Unused reserve',
    about:
      'Capacity that the control holds back so that water stays soft until its hour, and what is left of that day.',
  },
  dose: {
    title: 'Salt dose too high',
    about: `Salt of a dose beyond what the same hardness takes at ${RATED_GRAINS_PER_LB.toLocaleString('en-US')} grains per lb, the least of an efficiency rated softener (NSF/ANSI 44).`,
  },
};

/** A cause with what it is, such as `Started by hand: capacity that was left when …`. */
export function wasteInFull(cause: WasteCause): string {
  const { title, about } = WASTE_WORDS[cause];
  return `${title}: ${about.charAt(0).toLowerCase()}${about.slice(1)}`;
}
