import type { WireEvent } from './events.ts';
import type { Fact } from './facts.ts';
import type { QuarantineReason } from './quarantine.ts';
import type { Unit } from './registry.ts';
import { partsOfSource, type SourceParts } from './source.ts';
import type { Instant } from './time/instant.ts';
import { toFact } from './toFact.ts';

/** How far an event's `time` may lie ahead of its receipt. */
const MAX_AHEAD_MS = 24 * 3_600_000;

/** The verdict on one line: the fact that it states and whose, or why it is quarantined. */
export type Admission =
  | { accepted: true; unit: Unit; fact: Fact }
  | { accepted: false; reason: QuarantineReason; detail: string };

/**
 * The verdict on an event of a unit that fits its schema, by when it happened.
 *
 * @param saysReceipt whether the event says itself when it was received
 */
export function admitFact(
  fact: Fact,
  unit: Unit,
  saysReceipt: boolean,
  receivedAt: Instant | undefined,
): Admission {
  if (fact.kind === 'flow-day' && fact.at > fact.time + MAX_AHEAD_MS) {
    return refuse('invalid-data', 'data.date: that day had not closed at the time of the event');
  }
  const ahead = aheadOfReceipt(fact, saysReceipt ? receiptOf(fact, receivedAt) : receivedAt);
  if (ahead !== undefined) return refuse('in-the-future', ahead);
  return { accepted: true, unit, fact };
}

/** The verdict on an event that fits its schema; undefined if its unit is not known. */
export function admitEvent(
  event: WireEvent,
  units: ReadonlyMap<string, Unit>,
  receivedAt: Instant | undefined,
): Admission | undefined {
  const unit = unitOf(partsOfSource(event.source), units);
  return unit && admitFact(toFact(event, unit.zone), unit, Boolean(event.recordedtime), receivedAt);
}

/** The verdict on what cannot be accepted. */
export function refuse(reason: QuarantineReason, detail: string): Admission {
  return { accepted: false, reason, detail };
}

/** The unit that a source names, if it is one of the registry and of that company. */
export function unitOf(
  { companyId, unitId }: SourceParts,
  units: ReadonlyMap<string, Unit>,
): Unit | undefined {
  const unit = units.get(unitId);
  return unit?.companyId === companyId ? unit : undefined;
}

/** When an event was received: as it says itself, but never later than it was. */
function receiptOf({ known }: Fact, receivedAt: Instant | undefined): Instant {
  return receivedAt === undefined ? known : Math.min(known, receivedAt);
}

function aheadOfReceipt(fact: Fact, receipt: Instant | undefined): string | undefined {
  if (receipt === undefined || fact.time <= receipt + MAX_AHEAD_MS) return undefined;
  return `time is ${Math.round((fact.time - receipt) / 3_600_000)} h ahead of its receipt`;
}
