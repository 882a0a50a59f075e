import type { AlertCause, AlertKind } from '../../shared/alerts.ts';

const TURBINE = 'turbine meter with its seals';
const PROBE = 'meter probe and cable';
const INJECTOR = 'injector and its screen';
const BRINE_LINE = 'brine line tubing and fittings';
const BAGS = 'bags of salt';
const BLUNT = 'blunt rod to break a bridge';
const MOTOR = 'drive motor and gears';
const SWITCH = 'position switch';
const SUPPLY = 'power supply for the control';

/** What may be needed where a cause is found. Common practice, no source. */
const BY_CAUSE: Readonly<Partial<Record<AlertCause, readonly string[]>>> = {
  'meter-stalled': [TURBINE, PROBE],
  'meter-obstructed': [TURBINE, 'soft brush'],
  'meter-fault': [TURBINE, PROBE],
  'tank-empty': [BAGS],
  'salt-bridged': [BLUNT, BAGS],
  'brine-not-drawn': [INJECTOR, BRINE_LINE],
  'no-salt-draw': [INJECTOR, BAGS],
  'regeneration-missed': [SUPPLY, MOTOR],
  'not-in-service': [SUPPLY],
  'drive-failed': [MOTOR, SWITCH],
  repeated: [SWITCH],
};

/** The same for kinds of alerts, whatever the cause. Common practice, no source. */
const BY_KIND: Readonly<Partial<Record<AlertKind, readonly string[]>>> = {
  'salt-low': [BAGS],
  'silent-unit': ['power supply for whatever reports', 'spare reporting unit'],
};

/** Carried to every visit. Common practice, no source. */
const ALWAYS = [
  'hardness test kit',
  'silicone grease and spare O-rings',
  'bucket, towel, gloves, safety glasses',
];

/** A part to carry, and the cause or kind for which; null: on every visit. */
export interface Part {
  readonly part: string;
  readonly because: AlertCause | AlertKind | null;
}

/** What to carry, each once: for the likeliest causes first, then what always goes along. */
export function partsFor(causes: readonly AlertCause[], kinds: readonly AlertKind[]): Part[] {
  const all: Part[] = [
    ...causes.flatMap((cause) => (BY_CAUSE[cause] ?? []).map((part) => ({ part, because: cause }))),
    ...kinds.flatMap((kind) => (BY_KIND[kind] ?? []).map((part) => ({ part, because: kind }))),
    ...ALWAYS.map((part) => ({ part, because: null })),
  ];
  return all.filter(({ part }, index) => all.findIndex((other) => other.part === part) === index);
}
