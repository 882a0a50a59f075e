import { keysOf } from '../../shared/records.ts';
import type { Condition } from './condition.ts';
import { CONTROL_FAULTS } from './faults/controlFaults.ts';
import type { Fault } from './faults/fault.ts';
import { METER_FAULTS } from './faults/meterFaults.ts';
import { SALT_FAULTS } from './faults/saltFaults.ts';
import { SETTING_FAULTS } from './faults/settingFaults.ts';

/** Every fault that can be injected. */
export const FAULTS = { ...METER_FAULTS, ...SALT_FAULTS, ...SETTING_FAULTS, ...CONTROL_FAULTS };

export type FaultName = keyof typeof FAULTS;

export const FAULT_NAMES = keysOf(FAULTS);

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

/** A unit's condition `ageDays` after the fault has begun. What the meter misses and the clock is off by add up. */
export function spoilt(
  sound: Condition,
  { name, strength }: FaultPlan,
  typicalGallons: number,
  ageDays: number,
): Condition {
  const wrong = faultNamed(name).spoil(sound, strength, typicalGallons, ageDays);
  return {
    ...sound,
    ...wrong,
    registered: sound.registered * (wrong.registered ?? 1),
    clockAheadHours: sound.clockAheadHours + (wrong.clockAheadHours ?? 0),
  };
}

/** What is known of a kind of fault. */
export function faultNamed(name: FaultName): Fault {
  return FAULTS[name];
}
