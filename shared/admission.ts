import { admitByForm } from './admitByForm.ts';
import { dataSchemas, envelopeSchema, isEventType, isWireEvent } from './events.ts';
import type { Unit } from './registry.ts';
import { partsOfSource } from './source.ts';
import type { Instant } from './time/instant.ts';
import { type Admission, admitEvent, refuse } from './verdict.ts';
import { firstIssue } from './zodIssue.ts';

/**
 * Judges one line of a stream of events on its own; whether it conflicts with another event of the same id is for
 * whoever holds both (see {@link canonicalContent}).
 *
 * @param receivedAt when the live service received it; a replay has no receipt of its own and leaves it out
 */
export function admit(line: string, units: ReadonlyMap<string, Unit>, receivedAt?: Instant): Admission {
  return admitByForm(line, units, receivedAt, admitBySchema);
}

/** Judges an event that has been parsed from JSON by its schemas, as {@link admit} does. */
export function admitBySchema(
  parsed: unknown,
  units: ReadonlyMap<string, Unit>,
  receivedAt?: Instant,
): Admission {
  const admission = isWireEvent(parsed) ? admitEvent(parsed, units, receivedAt) : undefined;
  return admission ?? whyRefused(parsed, units);
}

/** The first reason against what is no event of a known unit, in the order of QUARANTINE_REASONS. */
function whyRefused(parsed: unknown, units: ReadonlyMap<string, Unit>): Admission {
  const envelope = envelopeSchema().safeParse(parsed);
  if (!envelope.success) return refuse('not-an-event', firstIssue(envelope.error));
  const { source, type } = envelope.data;
  if (!isEventType(type)) return refuse('unknown-type', `${shorten(type)} is not a type of this contract`);
  const { companyId, unitId } = partsOfSource(source);
  const unit = units.get(unitId);
  if (!unit) return refuse('unknown-unit', `${unitId} is not in the registry`);
  if (unit.companyId !== companyId) return refuse('wrong-company', `${unitId} is not a unit of ${companyId}`);
  const data = dataSchemas[type].safeParse(envelope.data.data);
  return refuse('invalid-data', data.success ? 'data does not fit' : `data.${firstIssue(data.error)}`);
}

function shorten(text: string): string {
  return text.length > 64 ? `${text.slice(0, 64)}…` : text;
}
