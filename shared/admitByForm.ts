import { MAX_EVENT_BYTES } from './quarantine.ts';
import { usualFact } from './readmit.ts';
import type { Unit } from './registry.ts';
import { isOfForm } from './spelling/eventForms.ts';
import { learn } from './spelling/learn.ts';
import { readUsual } from './spelling/usual.ts';
import type { Instant } from './time/instant.ts';
import { type Admission, admitEvent, admitFact, refuse, unitOf } from './verdict.ts';

/**
 * Judges one line of a stream of events as `admit` does, as far as that takes no schema: what is no JSON, and events of units
 * that are known and fit the form of their type.
 *
 * @param bySchema judges all else, which has been parsed from JSON
 */
export function admitByForm<Other>(
  line: string,
  units: ReadonlyMap<string, Unit>,
  receivedAt: Instant | undefined,
  bySchema: (parsed: unknown, units: ReadonlyMap<string, Unit>, receivedAt: Instant | undefined) => Other,
): Admission | Other {
  // A character takes at least one byte, so only a line in between needs its bytes counted.
  if (
    line.length > MAX_EVENT_BYTES ||
    (line.length * 3 > MAX_EVENT_BYTES && byteLength(line) > MAX_EVENT_BYTES)
  ) {
    return refuse('too-large', `over ${MAX_EVENT_BYTES} bytes`);
  }
  const usual = readUsual(line);
  const unit = usual && unitOf(usual.source.partsIn(line), units);
  if (unit) return admitFact(usualFact(usual, unit), unit, usual.recorded !== undefined, receivedAt);
  let parsed: unknown;
  try {
    parsed = JSON.parse(line);
  } catch (error) {
    return refuse('not-json', error instanceof Error ? error.message : String(error));
  }
  if (isOfForm(parsed)) {
    const admission = admitEvent(parsed, units, receivedAt);
    if (admission) {
      learn(line, parsed);
      return admission;
    }
  }
  return bySchema(parsed, units, receivedAt);
}

function byteLength(text: string): number {
  return new TextEncoder().encode(text).length;
}
