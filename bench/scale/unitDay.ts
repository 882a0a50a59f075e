/**
 * What a unit costs the table in a day, counted and not guessed: the real handlers run over simulated histories on an
 * embedded table that answers with consumed capacity as DynamoDB does. The store bench and the bill both take it from here.
 */
import { sweep } from '../../functions/sweep.ts';
import { planFleet } from '../../lib/simulation/plan.ts';
import { type SimulatedUnit, simulateUnit } from '../../lib/simulation/simulate.ts';
import { dynamoStore } from '../../lib/store/dynamoStore.ts';
import type { Sender } from '../../lib/store/sender.ts';
import type { WireEvent } from '../../shared/events.ts';
import { parseInstant } from '../../shared/time/instant.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';
import { Pipeline } from '../../tests/support/pipeline.ts';

const COMPANY = 'larkwater';
const SWEEP_MS = 900_000;
const DAY_MS = 86_400_000;
/** What is read and written for a company as a whole, however many units it has. */
const OF_COMPANY = new Set(['revision', 'company', 'rounds', 'records', 'putSwept']);

export interface UnitDayOptions {
  readonly table: { readonly client: Sender; readonly tableName: string };
  readonly units: number;
  /** The first day of the histories. */
  readonly start: LocalDate;
  /** After how many days of history it is counted, ascending. */
  readonly after: readonly number[];
  /** Over how many days it is counted each time. */
  readonly windowDays: number;
  /** Share of the units that have a fault some day, 0 to 1. */
  readonly faults: number;
  /**
   * Whether the handlers remember units and companies from one event to the next. In a large fleet they hardly do: the
   * next event of a unit meets another execution environment.
   */
  readonly warm: boolean;
}

/** Capacity units, and calls to the table that took them. */
export interface Spent {
  readonly read: number;
  readonly write: number;
  readonly calls: number;
}

/** By the method of the store that made the calls. */
export type ByOperation = Readonly<Record<string, Spent>>;

/** What was counted after some days of history. */
export interface UnitDay {
  readonly after: number;
  /** Events a unit-day. */
  readonly events: number;
  readonly transitions: number;
  /** Capacity units a unit-day. */
  readonly units: ByOperation;
  /** Capacity units a company-day, whatever the number of units. */
  readonly company: ByOperation;
}

/** Feeds units' histories through the functions, an event at a time and with the sweep within the windows. */
export async function measureUnitDay(options: UnitDayOptions): Promise<UnitDay[]> {
  const { table, units, start, after, windowDays, faults, warm } = options;
  const spent = new Map<string, Spent>();
  const store = dynamoStore({
    ...table,
    onCapacity: (operation, { read, write }) => {
      const sum = spent.get(operation) ?? { read: 0, write: 0, calls: 0 };
      const calls = sum.calls + 1;
      spent.set(operation, { read: sum.read + read, write: sum.write + write, calls });
    },
  });
  let clock = 0;
  const newPipeline = () =>
    new Pipeline(
      store,
      () => 0.999,
      () => clock,
    );
  const kept = newPipeline();
  const days = Math.max(...after) + windowDays + 1;
  const fleet = simulatedFleet({ units, days, start, faults });
  await store.putCompany({ companyId: COMPANY, name: COMPANY, channels: [], rules: {} });
  await store.putRecords(
    COMPANY,
    fleet.map(({ record }) => record),
  );
  const events = fleet
    .flatMap(({ record, events }) => events.map((event) => ({ unitId: record.unitId, event })))
    .sort((a, b) => receivedOf(a.event) - receivedOf(b.event));
  const [first] = events;
  if (!first) throw new Error('the fleet has no events: ask for more units or days');
  const begin = receivedOf(first.event);
  const sweepUnits = sweep(kept.ports);
  const measured: UnitDay[] = [];
  let swept = 0;
  for (const day of after) {
    const from = begin + day * DAY_MS;
    const to = from + windowDays * DAY_MS;
    for (const each of events) {
      if (receivedOf(each.event) >= clock && receivedOf(each.event) < from) await receive(kept, each);
    }
    clock = from;
    await kept.drain();
    spent.clear();
    const told = kept.notices.length;
    let inWindow = 0;
    let elsewhere = 0;
    for (const each of events) {
      if (receivedOf(each.event) < from || receivedOf(each.event) >= to) continue;
      clock = receivedOf(each.event);
      if (clock - swept > SWEEP_MS) {
        await sweepUnits();
        swept = clock;
        await kept.drain();
      }
      const pipeline = warm ? kept : newPipeline();
      await receive(pipeline, each);
      await pipeline.drain();
      if (!warm) elsewhere += pipeline.notices.length;
      inWindow += 1;
    }
    const unitDays = units * windowDays;
    measured.push({
      after: day,
      events: inWindow / unitDays,
      transitions: (kept.notices.length - told + elsewhere) / unitDays,
      units: shareOf(spent, (operation) => !OF_COMPANY.has(operation), unitDays),
      company: shareOf(spent, (operation) => OF_COMPANY.has(operation), windowDays),
    });
    clock = to;
  }
  return measured;
}

/** The sum over all operations. */
export function allOf(operations: ByOperation): Spent {
  const all = Object.values(operations);
  return {
    read: all.reduce((sum, { read }) => sum + read, 0),
    write: all.reduce((sum, { write }) => sum + write, 0),
    calls: all.reduce((sum, { calls }) => sum + calls, 0),
  };
}

/** An invented fleet of which a share stalls, draws no brine or is set wrongly some day. */
export function simulatedFleet(options: {
  units: number;
  days: number;
  start: LocalDate;
  faults: number;
}): SimulatedUnit[] {
  const share = options.faults / 3;
  const faults = { 'meter-stalled': share, 'brine-not-drawn': share, 'capacity-setting': share };
  return planFleet({ ...options, seed: 7, faults }).map(simulateUnit);
}

/** When the service received it. */
export function receivedOf(event: WireEvent): number {
  return parseInstant(event.recordedtime ?? event.time) ?? 0;
}

async function receive(
  pipeline: Pipeline,
  { unitId, event }: { unitId: string; event: WireEvent },
): Promise<void> {
  const line = JSON.stringify(event);
  await pipeline.receive({ companyId: COMPANY, unitId, receivedAt: receivedOf(event), line });
}

function shareOf(
  spent: ReadonlyMap<string, Spent>,
  isMeant: (operation: string) => boolean,
  days: number,
): ByOperation {
  return Object.fromEntries(
    [...spent]
      .filter(([operation]) => isMeant(operation))
      .sort(([, a], [, b]) => b.write + b.read - a.write - a.read)
      .map(([operation, { read, write, calls }]) => [
        operation,
        { read: read / days, write: write / days, calls: calls / days },
      ]),
  );
}
