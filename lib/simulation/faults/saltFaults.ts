import type { Fault } from './fault.ts';

/** Regenerations that bring no salt. */
export const SALT_FAULTS = {
  'tank-empty': {
    named: () => ({ kind: 'no-salt-draw', cause: 'tank-empty' }),
    also: [
      { kind: 'overrun', cause: 'no-salt-draw' },
      { kind: 'salt-low', cause: null },
    ],
    overrun: 'no-salt-draw',
    by: 'nature',
    spoil: () => ({ refilled: false }),
    work: 'salt added',
  },
  'salt-bridged': {
    named: () => ({ kind: 'no-salt-draw', cause: 'salt-bridged' }),
    also: [{ kind: 'overrun', cause: 'no-salt-draw' }],
    overrun: 'no-salt-draw',
    by: 'nature',
    spoil: () => ({ saltDissolves: false }),
    work: 'salt bridge broken',
  },
  'brine-not-drawn': {
    named: () => ({ kind: 'no-salt-draw', cause: 'brine-not-drawn' }),
    also: [{ kind: 'overrun', cause: 'no-salt-draw' }],
    overrun: 'no-salt-draw',
    by: 'nature',
    spoil: () => ({ brineDrawn: false }),
    work: 'injector cleaned',
  },
} as const satisfies Record<string, Fault>;
