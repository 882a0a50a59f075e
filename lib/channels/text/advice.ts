import type { Alert, AlertKind, CAUSES } from '../../../shared/alerts.ts';
import type { Notice } from '../notice.ts';
import { isOpen } from './sentence.ts';

/** What to do next. */
export interface Advice {
  readonly next: string;
  /** The same in a few words, for a short message. */
  readonly brief: string;
  /** Whether somebody's hands go inside: into the control, a valve or a tank. */
  readonly handsInside: boolean;
}

/** Stands with every advice by which hands go inside. */
export const CAUTION =
  'Before opening the control, a valve or a tank, bypass the softener, relieve its pressure and unplug it; local codes and licensed practice prevail.';

function look(next: string, brief: string): Advice {
  return { next, brief, handsInside: false };
}

function open(next: string, brief: string): Advice {
  return { next, brief, handsInside: true };
}

const ASK_HOUSEHOLD = look(
  'Ask the household whether it is away. If it is at home and draws water, send a technician to the meter.',
  'Ask the household if it is away.',
);
const FREE_METER = open(
  'Send a technician to free or replace the turbine meter, check the cable that reads it, and regenerate by hand.',
  'Free or replace the turbine meter.',
);
const CLEAN_METER = open(
  'Send a technician to clean or replace the turbine meter and compare its count with a measured volume.',
  'Clean or replace the turbine meter.',
);
const LOOK_INTO_TANK = open(
  'Look into the brine tank first: salt, a salt bridge, the water level; then at the injector and the brine line.',
  'Check salt, bridge, then injector.',
);
const CHECK_DRIVE = open(
  'Send a technician to check the motor, the gears and the position switch of the control.',
  'Check motor, gears, position switch.',
);
const SET_CAPACITY = look(
  'Set the capacity on the control to what its salt dose gives, or the salt dose to that capacity.',
  'Match capacity and salt dose.',
);
const SET_HARDNESS = look(
  "Test the raw water's hardness and set the control to it, with the allowance for iron.",
  'Test hardness and set the control.',
);
const SET_CLOCK = look('Set the clock of the control, and check that it keeps time.', 'Set the clock.');

/** By kind and cause, `unnamed` without one. Common practice, no source. */
const ADVICE: {
  readonly [Kind in AlertKind]: Readonly<Record<'unnamed' | (typeof CAUSES)[Kind][number], Advice>>;
} = {
  'no-flow': { unnamed: FREE_METER, 'meter-stalled': FREE_METER },
  'low-registration': { unnamed: CLEAN_METER, 'meter-obstructed': CLEAN_METER },
  'no-salt-draw': {
    unnamed: LOOK_INTO_TANK,
    'tank-empty': look(
      'Fill the brine tank with salt, and regenerate by hand once brine has formed.',
      'Fill the salt, then regenerate.',
    ),
    'salt-bridged': open(
      'Break the salt bridge in the brine tank with something blunt, and regenerate by hand once brine has formed.',
      'Break the salt bridge.',
    ),
    'brine-not-drawn': open(
      'Send a technician to check the injector and its screen, the brine line for air and kinks, and the drain line.',
      'Check injector, brine and drain line.',
    ),
  },
  overrun: {
    unnamed: look(
      'Compare capacity, hardness and salt dose on the control with the record, and regenerate by hand.',
      'Check the settings, regenerate.',
    ),
    'regeneration-missed': look(
      'Find out why it did not regenerate (power, bypass, clock, drive), and regenerate by hand.',
      'Find why it missed; regenerate.',
    ),
    'capacity-setting': SET_CAPACITY,
    'no-salt-draw': LOOK_INTO_TANK,
    'reserve-short': look(
      'Nothing at once: if it happens again, ask what has changed in the household and set a larger reserve.',
      'If it recurs, set a larger reserve.',
    ),
    'meter-fault': CLEAN_METER,
  },
  'missed-regeneration': {
    unnamed: look(
      'Check power, bypass and clock of the control; regenerate by hand and watch it start.',
      'Check power, bypass and clock.',
    ),
    'not-in-service': look(
      'Ask whether the softener is bypassed or unplugged, and put it back into service.',
      'Put it back into service.',
    ),
    'drive-failed': CHECK_DRIVE,
  },
  'early-regeneration': {
    unnamed: SET_CAPACITY,
    'capacity-setting': SET_CAPACITY,
    repeated: open(
      'Send a technician to find what starts it again: the timer, the position switch, or a meter that counts too much.',
      'Find what starts it again.',
    ),
    manual: look('Ask who starts regenerations by hand, and why.', 'Ask who regenerates by hand.'),
  },
  'setting-mismatch': {
    unnamed: SET_CAPACITY,
    'capacity-too-high': SET_CAPACITY,
    'capacity-too-low': SET_CAPACITY,
    'hardness-too-low': SET_HARDNESS,
    'hardness-too-high': SET_HARDNESS,
    'out-of-range': look(
      'Read the settings from the control: one of them cannot be right. Correct it or the record.',
      'Read and correct the settings.',
    ),
  },
  'clock-off': {
    unnamed: SET_CLOCK,
    'twelve-hours': look('Set the clock of the control: morning and evening are swapped.', 'Swap AM and PM.'),
    drift: SET_CLOCK,
  },
  'long-regeneration': { unnamed: CHECK_DRIVE, 'drive-failed': CHECK_DRIVE },
  'continuous-flow': {
    unnamed: look(
      'Ask the household to look for a fixture that runs on: a toilet, a hose, a relief valve.',
      'Ask for a fixture that runs on.',
    ),
    leak: look(
      'Ask the household to shut all taps: if the meter still turns, shut the water off and have the leak found.',
      'Shut all taps; find the leak.',
    ),
  },
  'salt-low': { unnamed: look('Bring salt before it runs out.', 'Bring salt.') },
  'silent-unit': {
    unnamed: look(
      'Check the power and the network of whatever reports for the unit; its alerts cannot be told meanwhile.',
      'Check power and network.',
    ),
  },
};

const NOTHING = look(
  'Nothing more is asked: a visit that was planned for this alone can be called off.',
  'Nothing more to do.',
);

/** What to do next about an alert that has changed. */
export function adviceOf({ change, alert }: Pick<Notice, 'change' | 'alert'>): Advice {
  if (!isOpen(change)) return NOTHING;
  if (alert.kind === 'no-flow' && alert.severity === 'routine') return ASK_HOUSEHOLD;
  return entryOf(alert);
}

function entryOf({ kind, cause }: Pick<Alert, 'kind' | 'cause'>): Advice {
  const entries: Readonly<Partial<Record<string, Advice>>> & { readonly unnamed: Advice } = ADVICE[kind];
  return (cause === null ? undefined : entries[cause]) ?? entries.unnamed;
}
