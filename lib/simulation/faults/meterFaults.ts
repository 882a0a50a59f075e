import type { Fault } from './fault.ts';

/** An obstructed meter comes to register its share over so many days at the most. */
const CREEPS_DAYS = 20;

/** Meters that count too little, and water that never stops. */
export const METER_FAULTS = {
  'meter-stalled': {
    named: () => ({ kind: 'no-flow', cause: 'meter-stalled' }),
    also: [{ kind: 'overrun', cause: 'meter-fault' }],
    overrun: 'meter-fault',
    by: 'nature',
    spoil: () => ({ registered: 0 }),
    work: 'meter replaced',
  },
  'meter-obstructed': {
    named: () => ({ kind: 'low-registration', cause: 'meter-obstructed' }),
    also: [{ kind: 'overrun', cause: 'meter-fault' }],
    overrun: 'meter-fault',
    by: 'nature',
    // 30 to 75 % of what flows; the digits of the strength after the first say how fast it creeps in.
    spoil: (_, strength, __, ageDays) => {
      const share = 0.3 + 0.45 * strength;
      const days = CREEPS_DAYS * ((10 * strength) % 1);
      return { registered: 1 - (1 - share) * Math.min(1, (ageDays + 1) / (days + 1)) };
    },
    showsBy: 'day',
    work: 'meter cleaned',
  },
  leak: {
    named: () => ({ kind: 'continuous-flow', cause: 'leak' }),
    also: [],
    overrun: 'reserve-short',
    by: 'hand',
    // 0.1 to 1.5 gallons a minute, small ones as likely as large ones by their logarithm.
    spoil: (_, strength) => ({ leakGpm: 0.1 * 15 ** strength }),
    showsBy: 'day',
    work: 'running fixture mended',
  },
  silent: {
    named: () => ({ kind: 'silent-unit', cause: null }),
    also: [],
    overrun: 'reserve-short',
    by: 'nature',
    spoil: () => ({ reports: false }),
    showsBy: 'day',
    work: 'transmitter replaced',
  },
} as const satisfies Record<string, Fault>;
