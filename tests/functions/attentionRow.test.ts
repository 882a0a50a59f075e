import { expect, test } from 'vitest';
import { assess } from '../../functions/assess.ts';
import { ingest } from '../../functions/ingest.ts';
import type { Outgoing, Ports } from '../../functions/ports.ts';
import { recordOf } from '../../infra/local/lambdaShape.ts';
import type { Store } from '../../lib/store/store.ts';
import { readRecords } from '../../shared/registry.ts';
import { memoryStore } from '../support/memoryStore.ts';
import { Pipeline } from '../support/pipeline.ts';
import { event, lines, records } from '../support/smallFleet.ts';

const COMPANY = 'fenwick-water';
const UNIT = 'u-19';

test('a unit of which nothing is open any more leaves the list, though taking it off failed once', async () => {
  const kept = memoryStore();
  let fails = false;
  const store: Store = {
    ...kept,
    dropAttention: async (unit, version) => {
      if (!fails) return kept.dropAttention(unit, version);
      fails = false;
      throw new Error('throttled');
    },
  };
  const all = [...readRecords(JSON.stringify(records)).records.values()];
  await kept.putRecords(
    COMPANY,
    all.filter(({ unitId }) => unitId === UNIT),
  );
  let clock = Date.UTC(2026, 2, 30, 12);
  const pipeline = new Pipeline(
    store,
    () => 0.999,
    () => clock,
  );
  for (const line of lines.filter((each) => each.includes(`/${UNIT}"`)))
    await pipeline.receive({ companyId: COMPANY, unitId: null, receivedAt: clock, line });
  await pipeline.drain();
  const rows = async () => (await kept.attention(COMPANY, { limit: 9 })).items.map(({ unitId }) => unitId);
  expect(await rows()).toEqual([UNIT]);

  // From here on by hand: who gets which message, and how often.
  const held: Outgoing[] = [];
  const send = async (messages: readonly Outgoing[]) => void held.push(...messages);
  const ports: Ports = { ...pipeline.ports, store, queues: { ...pipeline.ports.queues, assess: { send } } };
  const shaped = (body: string, id: string, receives: number) =>
    recordOf('assess', { id, body, group: UNIT, sentAt: 0, receives });
  const take = async (line: string) => {
    clock += 1000;
    const body = JSON.stringify({ companyId: COMPANY, unitId: null, receivedAt: clock, line });
    await ingest(ports)({ Records: [shaped(body, 'in', 1)] });
    return held.splice(0)[0]?.body ?? '';
  };
  const time = '2026-03-30T12:00:00Z';
  const source = `/companies/${COMPANY}/units/${UNIT}`;
  const act = await take(
    JSON.stringify({
      ...{ specversion: '1.0', id: 'act', source, type: 'brinebell.alert-act.v1', time },
      data: { act: 'remove-from-service', by: 'desk' },
    }),
  );
  fails = true;
  const first = await assess(ports)({ Records: [shaped(act, 'm-1', 1)] });
  expect(first.batchItemFailures).toHaveLength(1);
  const later = await take(event({ id: 'later', source, time, recordedtime: undefined }));
  const second = await assess(ports)({ Records: [shaped(act, 'm-1', 2), shaped(later, 'm-2', 1)] });
  expect(second.batchItemFailures).toEqual([]);
  expect(await rows()).toEqual([]);
});
