import type { Fault } from './fault.ts';

/** A clock that creeps off is as wrong as it gets after so many days. */
const DRIFTS_DAYS = { least: 10, most: 60 } as const;

/** Controls that regenerate not at all, too long, too often, or at the wrong hour. */
export const CONTROL_FAULTS = {
  'regeneration-missed': {
    named: (strength) => ({
      kind: 'missed-regeneration',
      cause: strength < 0.5 ? 'not-in-service' : 'drive-failed',
    }),
    also: [{ kind: 'overrun', cause: 'regeneration-missed' }],
    overrun: 'regeneration-missed',
    by: 'hand',
    spoil: (_, strength) => ({ regenerates: false, mode: strength < 0.5 ? 'setup' : 'service' }),
    work: 'control put back in service',
  },
  'regeneration-long': {
    named: () => ({ kind: 'long-regeneration', cause: 'drive-failed' }),
    also: [],
    overrun: 'reserve-short',
    by: 'nature',
    // 1.6 to 4 times as long, every one or one in two.
    spoil: (_, strength) => ({ slowness: 1.6 + 2.4 * strength, slowShare: isOdd(64 * strength) ? 0.5 : 1 }),
    work: 'drive motor replaced',
  },
  'regeneration-repeated': {
    named: () => ({ kind: 'early-regeneration', cause: 'repeated' }),
    also: [],
    overrun: 'reserve-short',
    by: 'nature',
    spoil: (_, strength) => ({ repeatsEveryDays: strength < 0.5 ? 1 : 2 }),
    work: 'position switch replaced',
  },
  'regeneration-by-hand': {
    named: () => ({ kind: 'early-regeneration', cause: 'manual' }),
    also: [{ kind: 'early-regeneration', cause: 'repeated' }],
    overrun: 'reserve-short',
    by: 'hand',
    spoil: (_, strength) => ({ byHandADay: 0.5 + 0.5 * strength }),
    work: 'household told how the control works',
  },
  'clock-twelve-hours': {
    named: () => ({ kind: 'clock-off', cause: 'twelve-hours' }),
    also: [],
    overrun: 'reserve-short',
    by: 'hand',
    spoil: () => ({ clockAheadHours: 12 }),
    showsBy: 'regeneration',
    // Half of them set the clock since power had been away.
    followsPowerFailure: (strength) => strength < 0.5,
    work: 'clock set',
  },
  'clock-drift': {
    named: () => ({ kind: 'clock-off', cause: 'drift' }),
    also: [],
    overrun: 'reserve-short',
    by: 'nature',
    // 2 to 6 hours, ahead or behind; half of them at once after a power failure, the others within some weeks.
    spoil: (_, strength, __, ageDays) => {
      const hours = 2 + 4 * ((2 * strength) % 1);
      const { least, most } = DRIFTS_DAYS;
      const days = strength < 0.5 ? 0 : least + (most - least) * ((10 * strength) % 1);
      const ahead = isOdd(64 * strength) ? -1 : 1;
      return { clockAheadHours: ahead * hours * Math.min(1, (ageDays + 1) / (days + 1)) };
    },
    showsBy: 'regeneration',
    followsPowerFailure: (strength) => strength < 0.5,
    work: 'clock set',
  },
} as const satisfies Record<string, Fault>;

/** A coin that a digit of the strength tosses. */
function isOdd(digits: number): boolean {
  return Math.floor(digits) % 2 === 1;
}
