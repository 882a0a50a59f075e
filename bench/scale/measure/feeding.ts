import type { SQSEvent } from 'aws-lambda';
import type { Outgoing } from '../../../functions/ports.ts';
import { received } from '../../../functions/send.ts';
import { recordOf } from '../../../infra/local/lambdaShape.ts';
import type { WireEvent } from '../../../shared/events.ts';
import type { UnitRecord } from '../../../shared/registry.ts';
import { receivedOf } from '../unitDay.ts';

export const COMPANY = 'larkwater';

/** A unit whose events are fed to the handlers. */
export interface TimedUnit {
  readonly record: UnitRecord;
  readonly events: readonly WireEvent[];
}

/** A batch as AWS Lambda hands it over. */
export function eventOf(queue: string, messages: readonly Outgoing[]): SQSEvent {
  const sentAt = Date.now();
  return {
    Records: messages.map(({ body, group = '' }, index) =>
      recordOf(queue, { id: `m-${sentAt}-${index}`, body, group, sentAt, receives: 1 }),
    ),
  };
}

/** Keeps what is logged from the screen, and counts it. */
export function silently(): { bytes(): number; end(): void } {
  const write = process.stdout.write;
  let bytes = 0;
  process.stdout.write = (chunk: string | Uint8Array) => {
    bytes += chunk.length;
    return true;
  };
  return {
    bytes: () => bytes,
    end: () => {
      process.stdout.write = write;
    },
  };
}

/** Units' events as `ingest` gets them, in the order in which they came. */
export function linesOf(units: readonly TimedUnit[]) {
  return units
    .flatMap(({ record, events }) =>
      events.map((event) => ({ unitId: record.unitId, at: receivedOf(event), line: JSON.stringify(event) })),
    )
    .sort((a, b) => a.at - b.at)
    .map(({ unitId, at, line }) => ({
      at,
      message: received({ companyId: COMPANY, unitId, receivedAt: at, line }),
    }));
}

/** Empties a list. */
export function takeAll(messages: Outgoing[]): Outgoing[] {
  return messages.splice(0, messages.length);
}

/** A number that reads well. */
export function round(value: number, digits: number): number {
  return Number(value.toFixed(digits));
}
