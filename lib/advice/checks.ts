import type { AlertCause } from '../../shared/alerts.ts';

/** What may be true of a unit when somebody comes: one of the causes, or nothing that an alert would name. */
export type Suspect = AlertCause | 'nothing';

/** One check that a technician makes at a unit, and what it shows. */
export interface Check {
  /** What to do. */
  readonly task: string;
  /** What speaks for one of the suspects that it shows. */
  readonly telling: string;
  /** How long it takes once the technician stands before the unit. */
  readonly minutes: number;
  /** Probability that it tells, by what is true; what is not named hardly ever makes it tell. */
  readonly shows: Readonly<Partial<Record<Suspect, number>>>;
}

/**
 * The checks by which causes are told apart. Minutes and probabilities are judgements of common practice, no source:
 * they set the order of the checks and nothing else.
 */
export const CHECKS = {
  'settings-read-back': {
    task: 'Read capacity, hardness, salt dose and mode from the control, and compare them with the record.',
    telling: 'one of them differs, or the control stands in its set-up mode',
    minutes: 3,
    shows: {
      'capacity-setting': 0.95,
      'capacity-too-high': 0.95,
      'capacity-too-low': 0.95,
      'hardness-too-low': 0.95,
      'hardness-too-high': 0.95,
      'out-of-range': 0.95,
      'not-in-service': 0.95,
    },
  },
  'clock-within-an-hour': {
    task: 'Compare the clock of the control with the time of day.',
    telling: 'it is more than an hour off; near twelve hours, morning and evening are swapped',
    minutes: 1,
    shows: { 'twelve-hours': 0.98, drift: 0.95, 'regeneration-missed': 0.2 },
  },
  'flow-indicator': {
    task: 'Open a tap downstream and watch the flow indicator of the control.',
    telling: 'it does not move, or much too slowly',
    minutes: 2,
    shows: { 'meter-stalled': 0.97, 'meter-fault': 0.8, 'meter-obstructed': 0.35 },
  },
  'all-taps-shut': {
    task: 'Shut all taps and watch the flow indicator for some minutes.',
    telling: 'it goes on moving',
    minutes: 5,
    shows: { leak: 0.95 },
  },
  'known-good-turbine': {
    task: 'Put the probe on a turbine that is known to be good, and turn it.',
    telling: 'the control counts: the old turbine is at fault, not the cable or the control',
    minutes: 12,
    shows: { 'meter-stalled': 0.85, 'meter-obstructed': 0.9, 'meter-fault': 0.85 },
  },
  'measured-volume': {
    task: 'Draw a measured volume from a tap and compare what the control has counted of it.',
    telling: 'it has counted much less',
    minutes: 8,
    shows: { 'meter-stalled': 0.99, 'meter-obstructed': 0.95, 'meter-fault': 0.95 },
  },
  'look-into-brine-tank': {
    task: 'Look into the brine tank: how much salt, and how high the water stands.',
    telling: 'there is no salt above the water',
    minutes: 2,
    shows: { 'tank-empty': 0.98, 'no-salt-draw': 0.4 },
  },
  'push-through-the-salt': {
    task: 'Push a broom handle down through the salt.',
    telling: 'it meets a crust with a hollow beneath',
    minutes: 3,
    shows: { 'salt-bridged': 0.95, 'no-salt-draw': 0.3 },
  },
  'brine-draw': {
    task: 'Start the brine draw by hand and watch the water in the brine tank, then the injector and the brine line.',
    telling: 'the water does not go down',
    minutes: 15,
    shows: { 'brine-not-drawn': 0.95, 'no-salt-draw': 0.3 },
  },
  'hot-and-cold-hardness': {
    task: 'Test the hardness at a cold softened tap and at a hot one.',
    telling: 'cold is hard (hot still soft: since hours, both hard: since days)',
    minutes: 5,
    shows: {
      'meter-stalled': 0.7,
      'meter-fault': 0.6,
      'tank-empty': 0.8,
      'salt-bridged': 0.8,
      'brine-not-drawn': 0.8,
      'no-salt-draw': 0.8,
      'regeneration-missed': 0.8,
      'not-in-service': 0.7,
      'drive-failed': 0.7,
      'capacity-setting': 0.4,
      'capacity-too-high': 0.4,
      'hardness-too-low': 0.4,
      'reserve-short': 0.2,
    },
  },
  'step-by-hand': {
    task: 'Start a regeneration by hand and watch the drive come to each position, and home again.',
    telling: 'it stays where it is, takes far too long, or starts over',
    minutes: 15,
    shows: { 'drive-failed': 0.95, repeated: 0.7, 'regeneration-missed': 0.4 },
  },
  'ask-the-household': {
    task: 'Ask who is at home, when the water felt hard, who brings salt and who presses buttons.',
    telling: 'somebody starts regenerations, or has been away, or used much more on a day',
    minutes: 4,
    shows: { manual: 0.9, 'reserve-short': 0.5, 'not-in-service': 0.2, nothing: 0.4 },
  },
} as const satisfies Record<string, Check>;

export type CheckName = keyof typeof CHECKS;
