import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { atOnce } from '../../../functions/atOnce.ts';
import { hashOf } from '../../../functions/secrets.ts';
import { startService } from '../../../infra/local/service.ts';
import type { Store } from '../../../lib/store/store.ts';
import { chunks } from '../../../shared/chunks.ts';
import { noLog } from '../../../tests/support/pipeline.ts';
import { simulatedFleet } from '../../scale/unitDay.ts';
import { alertOf, attentionRow, unitIdOf } from './attentionRow.ts';

/** The unit of each company that has a history. */
export const UNIT = 'unit-with-history';
const HISTORY_DAYS = 200;
const DAY_MS = 86_400_000;
const SECRET = 'of-the-bench-alone';
const AT_ONCE = 64;
const RECORDS_AT_ONCE = 1_000;

/** An answer of the API. */
export interface Answer {
  readonly milliseconds: number;
  readonly bytes: number;
}

/**
 * The service of one machine with a company of each number of units, all in one table. The units of a company stand in its
 * registry and need attention, each in a row of its own and for an alert of its own; one has a history.
 */
export async function startFilled(sizes: readonly number[], say: (line: string) => void) {
  const folder = await mkdtemp(join(tmpdir(), 'brinebell-api-'));
  const service = await startService({
    ...{ dataDir: folder, host: '127.0.0.1', port: 0, mqttPort: 0, env: {}, log: noLog },
  });
  const { store } = service.ports;
  const keyOf = (units: number) => `Bearer ${companyOf(units)}~bench.${SECRET}`;
  const ask = async (units: number, path: string, init: RequestInit = {}): Promise<Answer> => {
    const headers = { ...init.headers, authorization: keyOf(units) };
    const began = performance.now();
    const response = await fetch(service.url + path, { ...init, headers });
    const { byteLength: bytes } = await response.arrayBuffer();
    if (!response.ok) throw new Error(`${path}: ${response.status}`);
    return { milliseconds: performance.now() - began, bytes };
  };
  for (const units of sizes) {
    say(`filling a company of ${units} units`);
    const events = await fill(store, units);
    const body = events.map((event) => JSON.stringify(event)).join('\n');
    await ask(units, '/v1/events', {
      method: 'POST',
      headers: { 'content-type': 'application/x-ndjson' },
      body,
    });
    const unit = { companyId: companyOf(units), unitId: UNIT };
    while (((await store.unit(unit, { fresh: true })).stored?.head.state.lastReported ?? null) === null)
      await pause(100);
  }
  return {
    /** Has a company of so many units ask for something. */
    ask,
    async stop(): Promise<void> {
      await service.stop();
      await rm(folder, { recursive: true });
    },
  };
}

function companyOf(units: number): string {
  return `company-${units}`;
}

/** Puts a company into the table; returns the events of the unit with a history. */
async function fill(store: Store, units: number) {
  const companyId = companyOf(units);
  await store.putCompany({ companyId, name: companyId, channels: [], rules: {} });
  const name = `${companyId}~bench`;
  await store.putPrincipal({ name, companyId, unitId: null, secretHash: hashOf(SECRET) });
  const start = Math.floor(Date.now() / DAY_MS) - HISTORY_DAYS - 2;
  const [simulated] = simulatedFleet({ units: 1, days: HISTORY_DAYS, start, faults: 0 });
  if (!simulated) throw new Error('no unit was simulated');
  const { record, events } = simulated;
  const indices = Array.from({ length: units }, (_, index) => index);
  const records = indices.map((index) => ({ ...record, companyId, unitId: unitIdOf(index) }));
  for (const some of chunks([{ ...record, companyId, unitId: UNIT }, ...records], RECORDS_AT_ONCE)) {
    await store.putRecords(companyId, some);
  }
  await atOnce(AT_ONCE, indices, async (index) => {
    const [row, unit] = [attentionRow(index), { companyId, unitId: unitIdOf(index) }];
    await store.putAttention(unit, 1, row);
    await store.putAlert(unit, 1, row.alertId, alertOf(row));
  });
  return events.map((event) => ({ ...event, source: `/companies/${companyId}/units/${UNIT}` }));
}
