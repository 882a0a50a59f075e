import type { Fault } from './fault.ts';

/** A drifting clock has gone its way within so many days at the most. */
const DRIFTS_DAYS = 60;

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
    // 1.6 to 4 times as long; the weaker half only every second time.
    spoil: (_, strength) => ({ slowness: 1.6 + 2.4 * strength, slowShare: strength < 0.5 ? 0.5 : 1 }),
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
    work: 'clock set',
  },
  'clock-drift': {
    named: () => ({ kind: 'clock-off', cause: 'drift' }),
    also: [],
    overrun: 'reserve-short',
    by: 'nature',
    // 2 to 6 hours, ahead or behind; half of them at once, the others within some weeks.
    spoil: (_, strength, __, ageDays) => {
      const hours = 2 + 4 * ((2 * strength) % 1);
      const days = strength < 0.5 ? 0 : DRIFTS_DAYS * ((10 * strength) % 1);
      const ahead = Math.floor(8 * strength) % 2 === 0 ? 1 : -1;
      return { clockAheadHours: ahead * hours * Math.min(1, (ageDays + 1) / (days + 1)) };
    },
    showsBy: 'regeneration',
    work: 'clock set',
  },
} as const satisfies Record<string, Fault>;
