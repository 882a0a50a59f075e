import { believedGallons, isDue, reserveGallons } from '../../lib/unit/control.ts';
import { flowDay, regeneration, type Wire, zoneOf } from './events.ts';

/** What a control and its telemetry do in a scripted story; days count from 0. */
export interface Script {
  days: number;
  /** Use of a day, US gallons. */
  gallons: (day: number) => number;
  /** What the meter registers of it; all by default. */
  registers?: (day: number) => number;
  /** What the control goes by, gallons; 1,000 by default: 20,000 grains at 20 gpg. */
  capacityGallons?: (day: number) => number;
  /** Whether it regenerates when due. */
  regenerates?: (day: number) => boolean;
  /** Sensor readings of the n-th regeneration, from 0. */
  senses?: (nth: number) => Record<string, unknown>;
}

/** The first day of each story. */
export const FIRST_DATE = Date.parse('2026-01-05T00:00:00Z') / 86_400_000;

/** Plays a script through the control's rule; returns the events that unit u-17 sends of it, in order. */
export function play(script: Script): Wire[] {
  const zone = zoneOf('America/New_York');
  const capacity = believedGallons({ capacityGrains: 20_000, hardnessGpg: 20, regenerationHour: 2 });
  const events: Wire[] = [];
  const previous: number[] = [];
  let counted = 0;
  let regenerations = 0;
  for (let day = 0; day < script.days; day++) {
    const date = FIRST_DATE + day;
    const left = (script.capacityGallons?.(day) ?? capacity) - counted;
    if (isDue(left, reserveGallons(previous)) && (script.regenerates?.(day) ?? true)) {
      events.push(regeneration(zone, date, 2, script.senses?.(regenerations)));
      regenerations += 1;
      counted = 0;
    }
    const gallons = script.gallons(day) * (script.registers?.(day) ?? 1);
    events.push(flowDay(zone, date, gallons));
    previous.push(gallons);
    counted += gallons;
  }
  return events;
}

/** The lines of events. */
export function linesOf(events: readonly Wire[]): string[] {
  return events.map((event) => JSON.stringify(event));
}
