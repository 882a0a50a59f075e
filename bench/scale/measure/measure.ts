import { type ChildProcess, fork } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { DynamoDBClient } from '@aws-sdk/client-dynamodb';
import { startEmbeddedTable } from '../../../infra/local/embeddedTable.ts';
import { clientOptions } from '../../../lib/store/client.ts';
import { createTable } from '../../../lib/store/table.ts';
import { parseLocalDate } from '../../../shared/time/localDate.ts';
import { toUnit } from '../../../shared/toUnit.ts';
import type { Measured } from '../measured.ts';
import { measureUnitDay, receivedOf, simulatedFleet, type UnitDay } from '../unitDay.ts';
import { type HandlersTask, type HandlersTimed, timeHandlers } from './handlers.ts';

const DAY_MS = 86_400_000;
/** Histories begin on this day, so that what is counted is the same at every run. */
const START = parseLocalDate('2026-03-02') ?? 0;
const UNITS = 6;
const AFTER = 60;
const WINDOW_DAYS = 10;
/** Units whose batches are timed, and after how many days of history. */
const TIMED_AFTER = 30;
const SOUND_UNITS = 120;
const FAULTY_UNITS = 150;
const ROLE = '--time-handlers';

/** Whether this process is the one that {@link measure} starts to time the handlers in. */
export const isTimer = process.argv.includes(ROLE);

/** What such a process does: it is given a task and answers with the figures. */
export async function beTimer(): Promise<void> {
  const [task]: unknown[] = await once(process, 'message');
  // It comes from ourselves.
  const timed = await timeHandlers(task as HandlersTask);
  process.send?.(timed, () => process.disconnect());
}

/** Measures all that the models are fed with; takes about a minute. */
export async function measure(): Promise<Measured> {
  const folder = await mkdtemp(join(tmpdir(), 'brinebell-scale-'));
  const table = await startEmbeddedTable(folder, (error) => console.error(error));
  const client = new DynamoDBClient(clientOptions({ DYNAMODB_ENDPOINT: table.endpoint }));
  try {
    const capacity = {
      units: UNITS,
      start: START,
      windowDays: WINDOW_DAYS,
      warm: await measureCapacity(client, 'warm', { faults: 0, warm: true }),
      cold: await measureCapacity(client, 'cold', { faults: 0, warm: false }),
      faulty: await measureCapacity(client, 'faulty', { faults: 1, warm: true }),
    };
    const tableName = 'timed';
    await createTable(client, tableName);
    const fleetOf = (units: number, faults: number) =>
      simulatedFleet({ units, days: TIMED_AFTER + 12, start: START, faults });
    const fleet = fleetOf(SOUND_UNITS, 0);
    const timed = await inOwnProcess({
      endpoint: table.endpoint,
      tableName,
      sound: fleet.map(({ record, events }) => ({ record, events })),
      faulty: fleetOf(FAULTY_UNITS, 1).map(({ record, events }) => ({
        record: { ...record, unitId: `faulty-${record.unitId}` },
        events: events.map((event) => ({
          ...event,
          source: event.source.replace('/units/', '/units/faulty-'),
        })),
      })),
      from: (START + TIMED_AFTER) * DAY_MS,
    });
    return {
      date: new Date().toISOString().slice(0, 10),
      machine: `${cpus().length} cores of ${cpus()[0]?.model ?? 'an unknown CPU'}, shared, Node ${process.versions.node}`,
      capacity,
      events: eventsOf(fleet),
      ...timed,
    };
  } finally {
    client.destroy();
    await table.close();
    await rm(folder, { recursive: true });
  }
}

/** Counts a unit-day at the size that the figures on record are of. */
export async function measureCapacity(
  client: DynamoDBClient,
  tableName: string,
  options: { faults: number; warm: boolean },
): Promise<UnitDay> {
  await createTable(client, tableName);
  const [day] = await measureUnitDay({
    ...options,
    table: { client, tableName },
    units: UNITS,
    start: START,
    after: [AFTER],
    windowDays: WINDOW_DAYS,
  });
  if (!day) throw new Error('nothing was measured');
  return day;
}

async function inOwnProcess(task: HandlersTask): Promise<HandlersTimed> {
  const [, script = ''] = process.argv;
  const child: ChildProcess = fork(script, [ROLE], { stdio: ['ignore', 'inherit', 'inherit', 'ipc'] });
  child.send(task);
  const timed = await Promise.race([once(child, 'message'), once(child, 'exit')]);
  const [answer]: unknown[] = timed;
  if (typeof answer !== 'object' || answer === null) {
    throw new Error('the process that times the handlers ended before it answered: it says why above');
  }
  return answer as HandlersTimed;
}

function eventsOf(fleet: ReturnType<typeof simulatedFleet>): Measured['events'] {
  const byLocalHour = Array.from({ length: 24 }, () => 0);
  let bytes = 0;
  let count = 0;
  for (const { record, events } of fleet) {
    const { zone } = toUnit(record);
    for (const event of events) {
      const at = receivedOf(event);
      const hour = Math.floor(zone.hourAt(at));
      byLocalHour[hour] = (byLocalHour[hour] ?? 0) + 1;
      bytes += JSON.stringify(event).length;
      count += 1;
    }
  }
  return {
    byLocalHour: byLocalHour.map((each) => Number((each / count).toFixed(4))),
    lineBytes: Math.round(bytes / count),
  };
}
