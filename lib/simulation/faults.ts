import type { AlertCause, AlertKind } from '../../shared/alerts.ts';
import type { Programmed } from '../../shared/registry.ts';
import { believedGallons } from '../unit/control.ts';

/** What may be wrong with a unit; nothing is, at first. */
export interface Condition {
  readonly programmed: Programmed;
  readonly mode: 'service' | 'setup';
  /** Share of the drawn water that the meter registers. */
  readonly registered: number;
  /** Whether the control regenerates when it is due. */
  readonly regenerates: boolean;
  /** Whether liquid is drawn from the salt tank, and whether there is salt in it. */
  readonly brineDrawn: boolean;
  readonly saltDissolves: boolean;
  /** Whether the household puts salt in. */
  readonly refilled: boolean;
}

/** A kind of alert with the cause that it should name. */
export interface Naming {
  readonly kind: AlertKind;
  readonly cause: AlertCause;
}

interface Fault {
  /** What should be said of it. `strength`, 0 to 1, also decides between variants. */
  readonly named: (strength: number) => Naming;
  /** What else may be rightly said of it. */
  readonly also: readonly Naming[];
  /** The cause of the overruns that it leads to. */
  readonly overrun: AlertCause;
  /** When it may begin: at midnight, or when somebody is there to change a setting. */
  readonly by: 'nature' | 'hand';
  readonly spoil: (healthy: Condition, strength: number, typicalGallons: number) => Partial<Condition>;
  /** What the technician writes down who mends it. */
  readonly work: string;
}

/** Every fault that can be injected. */
export const FAULTS = {
  'meter-stalled': {
    named: () => ({ kind: 'no-flow', cause: 'meter-stalled' }),
    also: [{ kind: 'overrun', cause: 'meter-fault' }],
    overrun: 'meter-fault',
    by: 'nature',
    spoil: () => ({ registered: 0 }),
    work: 'meter replaced',
  },
  'tank-empty': {
    named: () => ({ kind: 'no-salt-draw', cause: 'tank-empty' }),
    also: [{ kind: 'overrun', cause: 'no-salt-draw' }],
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
  'capacity-setting': {
    named: () => ({ kind: 'overrun', cause: 'capacity-setting' }),
    also: [{ kind: 'setting-mismatch', cause: 'capacity-too-high' }],
    overrun: 'capacity-setting',
    by: 'hand',
    // 25 to 60 % too high, and the more the larger the reserve that makes up for it: overruns of 15 % and more.
    spoil: ({ programmed }, strength, typicalGallons) => {
      const least = 1.25 + (0.5 * typicalGallons) / believedGallons(programmed);
      const factor = least + strength * Math.max(0, 1.6 - least);
      const capacityGrains = Math.round((programmed.capacityGrains * factor) / 500) * 500;
      return { programmed: { ...programmed, capacityGrains } };
    },
    work: 'capacity programmed anew',
  },
  'hardness-understated': {
    named: () => ({ kind: 'setting-mismatch', cause: 'hardness-too-low' }),
    also: [{ kind: 'overrun', cause: 'capacity-setting' }],
    overrun: 'capacity-setting',
    by: 'hand',
    // 25 to 45 % too low.
    spoil: ({ programmed }, strength) => {
      const hardnessGpg = Math.round(programmed.hardnessGpg * (0.75 - 0.2 * strength));
      return { programmed: { ...programmed, hardnessGpg } };
    },
    work: 'hardness programmed anew',
  },
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
} as const satisfies Record<string, Fault>;

export type FaultName = keyof typeof FAULTS;

export const FAULT_NAMES = Object.keys(FAULTS) as FaultName[];

/** One fault of one unit. Days count from 0 at the first of the simulation; hours are local. */
export interface FaultPlan {
  readonly name: FaultName;
  readonly strength: number;
  readonly begins: { readonly day: number; readonly hour: number };
  /** How many days after it first shows somebody comes and mends it; undefined if nobody does. */
  readonly mendedAfterDays: number | undefined;
  /** Days before a stall in which the meter already registers a falling share. */
  readonly dwindlingDays: number;
}

/** What is right with every unit as its company set it up. */
export function healthy(programmed: Programmed): Condition {
  return {
    programmed,
    mode: 'service',
    registered: 1,
    regenerates: true,
    brineDrawn: true,
    saltDissolves: true,
    refilled: true,
  };
}

/** A unit's condition once the fault has begun. */
export function spoilt(sound: Condition, { name, strength }: FaultPlan, typicalGallons: number): Condition {
  return { ...sound, ...faultNamed(name).spoil(sound, strength, typicalGallons) };
}

/** What is known of a kind of fault. */
export function faultNamed(name: FaultName): Fault {
  return FAULTS[name];
}
