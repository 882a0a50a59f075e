import { dataSchemas, envelopeSchema, isEventType, isWireEvent } from './events.ts';
import type { Fact } from './facts.ts';
import { MAX_EVENT_BYTES, type QuarantineReason } from './quarantine.ts';
import { usualFact } from './readmit.ts';
import type { Unit } from './registry.ts';
import { partsOfSource, type SourceParts } from './source.ts';
import { learn, readUsual } from './spelling/usual.ts';
import { formatInstant, type Instant, parseInstant } from './time/instant.ts';
import { toFact } from './toFact.ts';
import { firstIssue } from './zodIssue.ts';

/** How far an event's `time` may lie ahead of its receipt. */
const MAX_AHEAD_MS = 24 * 3_600_000;

/** The verdict on one line: the fact that it states and whose, or why it is quarantined. */
export type Admission =
  | { accepted: true; unit: Unit; fact: Fact }
  | { accepted: false; reason: QuarantineReason; detail: string };

/**
 * Judges one line of a stream of events on its own; whether it conflicts with another event of the same id is for
 * whoever holds both (see {@link canonicalContent}).
 *
 * @param receivedAt when the live service received it; a replay has no receipt of its own and leaves it out
 */
export function admit(line: string, units: ReadonlyMap<string, Unit>, receivedAt?: Instant): Admission {
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
  return admitParsed(line, parsed, units, receivedAt);
}

/** Judges an event that has been parsed from JSON, as {@link admit} does, and learns how an accepted one is spelt. */
function admitParsed(
  line: string,
  parsed: unknown,
  units: ReadonlyMap<string, Unit>,
  receivedAt?: Instant,
): Admission {
  if (!isWireEvent(parsed)) return whyRefused(parsed, units);
  const unit = unitOf(partsOfSource(parsed.source), units);
  if (!unit) return whyRefused(parsed, units);
  const admission = admitFact(toFact(parsed, unit.zone), unit, Boolean(parsed.recordedtime), receivedAt);
  learn(line, parsed);
  return admission;
}

/** Judges an event that fits its schema by when it happened. */
function admitFact(fact: Fact, unit: Unit, saysReceipt: boolean, receivedAt: Instant | undefined): Admission {
  if (fact.kind === 'flow-day' && fact.at > fact.time + MAX_AHEAD_MS) {
    return refuse('invalid-data', 'data.date: that day had not closed at the time of the event');
  }
  const ahead = aheadOfReceipt(fact, saysReceipt ? receiptOf(fact, receivedAt) : receivedAt);
  if (ahead !== undefined) return refuse('in-the-future', ahead);
  return { accepted: true, unit, fact };
}

/** The unit that a source names, if it is one of the registry and of that company. */
function unitOf({ companyId, unitId }: SourceParts, units: ReadonlyMap<string, Unit>): Unit | undefined {
  const unit = units.get(unitId);
  return unit?.companyId === companyId ? unit : undefined;
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

/** When an event was received: as it says itself, but never later than it was. */
function receiptOf({ known }: Fact, receivedAt: Instant | undefined): Instant {
  return receivedAt === undefined ? known : Math.min(known, receivedAt);
}

/**
 * Writes into an event when it was received, where it does not say so itself, or says that it will be: its
 * `recordedtime`. All else stays as it was sent, to the letter; of two members of one name, JSON's readers take the last.
 *
 * @param line one that {@link admit} has let through with that receipt
 */
export function withReceipt(line: string, receivedAt: Instant): string {
  const { recordedtime } = JSON.parse(line);
  if (recordedtime && (parseInstant(recordedtime) ?? 0) <= receivedAt) return line;
  return `${line.trimEnd().slice(0, -1)},"recordedtime":"${formatInstant(receivedAt)}"}`;
}

function aheadOfReceipt(fact: Fact, receipt: Instant | undefined): string | undefined {
  if (receipt === undefined || fact.time <= receipt + MAX_AHEAD_MS) return undefined;
  return `time is ${Math.round((fact.time - receipt) / 3_600_000)} h ahead of its receipt`;
}

function refuse(reason: QuarantineReason, detail: string): Admission {
  return { accepted: false, reason, detail };
}

function shorten(text: string): string {
  return text.length > 64 ? `${text.slice(0, 64)}…` : text;
}

function byteLength(text: string): number {
  return new TextEncoder().encode(text).length;
}
