import { createServer } from 'node:net';
import {
  BatchWriteItemCommand,
  CreateTableCommand,
  DynamoDBClient,
  DynamoDBServiceException,
  GetItemCommand,
  QueryCommand,
} from '@aws-sdk/client-dynamodb';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { AccessOptions, Capacity } from '../../../lib/store/access.ts';
import { clientOptions } from '../../../lib/store/client.ts';
import { dynamoStore } from '../../../lib/store/dynamoStore.ts';
import { factKey } from '../../../lib/store/factKey.ts';
import { storeError } from '../../../lib/store/failures.ts';
import type { Sender } from '../../../lib/store/sender.ts';
import type { Store } from '../../../lib/store/store.ts';
import { createTable } from '../../../lib/store/table.ts';
import { type TestTable, testTable } from '../../support/table.ts';
import { alertOf, headsOf, lineOf, messageOf, outboxOf, personOf, recordOf, rowOf } from './examples.ts';

let table: TestTable;
beforeAll(async () => {
  table = await testTable();
});
afterAll(() => table.close());

const PK = { AttributeName: 'pk', AttributeType: 'S' as const };
const unit = { companyId: 'fenwick-water', unitId: 'u-17' };
const facts = Array.from({ length: 60 }, (_, known) => {
  const line = lineOf({ id: `e-${known % 20}`, lb: 4, known });
  return { line, key: factKey(line).key };
});

/** What may be done to a command before it is sent, and to what comes back. */
interface Tampering {
  before?(command: object): void;
  after?(command: object, output: object): void;
}

function tampered({ before, after }: Tampering): Sender {
  return {
    async send(command) {
      before?.(command);
      const output = await table.client.send(command);
      after?.(command, output);
      return output;
    },
  };
}

function storeOn(options: Partial<AccessOptions>): Store {
  return dynamoStore({ client: table.client, tableName: table.tableName, pause: async () => {}, ...options });
}

/** Lets only some of each batch through, and says that the rest is left over. */
function takingSome(take: (call: number, items: number) => number): { client: Sender; calls(): number } {
  const left = new Map<object, object[]>();
  let call = 0;
  const client = tampered({
    before(command) {
      if (!(command instanceof BatchWriteItemCommand)) return;
      const requests = command.input.RequestItems?.[table.tableName] ?? [];
      const taken = take(call, requests.length);
      left.set(command, requests.slice(taken));
      // No batch may be empty: one that takes nothing writes one item and says that it did not.
      command.input.RequestItems = { [table.tableName]: requests.slice(0, Math.max(1, taken)) };
      call += 1;
    },
    after(command, output) {
      const requests = left.get(command) ?? [];
      if (requests.length > 0) Object.assign(output, { UnprocessedItems: { [table.tableName]: requests } });
    },
  });
  return { client, calls: () => call };
}

test('what a batch leaves over is sent again until nothing is', async () => {
  const { client, calls } = takingSome((call, items) => (call % 3 === 2 ? items : 2));
  const of = { ...unit, unitId: 'left-over' };
  await storeOn({ client }).putFacts([{ unit: of, facts: [...facts, ...facts] }]);
  expect((await table.store.facts(of, { limit: 100 })).items).toHaveLength(facts.length);
  expect(calls()).toBe(3 * Math.ceil(facts.length / 25));
});

test('a table that takes nothing is given up as throttled, after pauses of chance length that may grow', async () => {
  const pauses: number[] = [];
  const { client, calls } = takingSome(() => 0);
  const store = storeOn({
    client,
    pause: async (milliseconds) => {
      pauses.push(milliseconds);
    },
  });
  await expect(store.putFacts([{ unit, facts }])).rejects.toMatchObject({
    code: 'throttled',
    retryable: true,
  });
  expect(calls()).toBe(pauses.length + 1);
  expect(pauses.length).toBeGreaterThan(3);
  pauses.forEach((milliseconds, index) => {
    expect(milliseconds).toBeLessThan(50 * 2 ** index);
  });
});

test('a read that is behind is asked again where something must be there, and only then', async () => {
  const reads: boolean[] = [];
  const client = tampered({
    after(command, output) {
      if (!(command instanceof QueryCommand || command instanceof GetItemCommand)) return;
      reads.push(command.input.ConsistentRead === true);
      if (!command.input.ConsistentRead) Object.assign(output, { Items: [], Item: undefined });
    },
  });
  const store = storeOn({ client });
  const of = { ...unit, unitId: 'behind' };
  const [head] = headsOf('u-17');
  const [fact] = facts;
  if (!head || !fact) throw new Error('examples are missing');
  await store.putFacts([{ unit: of, facts: [fact] }]);
  await store.putCheckpoints(of, [{ key: 'key-1', head }]);
  await store.putHead(of, 0, { head, basis: 'b', outbox: null });
  const including = fact.key;
  expect(await store.copies(of, [{ id: 'e-0', including }])).toEqual([[fact]]);
  expect(await store.copies(of, [{ id: 'e-0' }])).toEqual([[]]);
  // Of several at once that one alone is asked for again.
  expect(await store.copies(of, [{ id: 'e-0', including }, { id: 'e-1' }])).toEqual([[fact], []]);
  expect(await store.checkpoint(of, 'key-1')).toEqual(head);
  expect(await store.unit(of, { fresh: false })).toMatchObject({ version: 0 });
  expect(await store.unit(of, { fresh: true })).toMatchObject({ version: 1 });
  expect(reads).toEqual([false, true, false, false, true, false, true, false, true]);
  // Whoever asks for all of them goes by what is missing too.
  await store.putAlert(of, 1, 'a-1', alertOf({}));
  expect(await store.alertsOf(of)).toHaveLength(1);
  expect((await store.facts(of, { limit: 5 })).items).toEqual([fact]);
});

test('a write whose answer is lost is unavailable, and may be made again', async () => {
  let lost = true;
  const client = tampered({
    after() {
      lost = !lost;
      if (!lost) throw Object.assign(new Error('socket hang up'), { code: 'ECONNRESET' });
    },
  });
  const store = storeOn({ client });
  const of = { ...unit, unitId: 'lost' };
  const twice = async (write: () => Promise<unknown>) => {
    await expect(write()).rejects.toMatchObject({ code: 'unavailable', retryable: true });
    return write();
  };
  const alert = alertOf({});
  await twice(() => store.putFacts([{ unit: of, facts: facts.slice(0, 20) }]));
  await twice(() => store.putAlert(of, 1, 'a-1', alert));
  await twice(() => store.putActs(of, 1, 'a-1', [{ act: 'acknowledge', by: 'd-1', at: 1 }]));
  await twice(() => store.putQuarantined([messageOf(of.companyId, 1)]));
  const [head] = headsOf('u-17');
  if (!head) throw new Error('examples are missing');
  // Of a head one cannot tell by the answer: it must be read again.
  const put = twice(() => store.putHead(of, 0, { head, basis: 'b', outbox: null }));
  await expect(put).rejects.toMatchObject({ code: 'conflict' });
  expect((await table.store.facts(of, { limit: 100 })).items).toHaveLength(20);
  expect(await table.store.alertsOf(of)).toMatchObject([{ alert, acknowledged: { by: 'd-1' } }]);
  expect((await table.store.quarantined(of.companyId, { limit: 9 })).items).toHaveLength(1);
  expect(await table.store.unit(of, { fresh: true })).toMatchObject({ version: 1 });
});

test('what every call took is told by the name of what was asked for', async () => {
  const took = new Map<string, Capacity[]>();
  const store = storeOn({
    onCapacity: (operation, capacity) => took.set(operation, [...(took.get(operation) ?? []), capacity]),
  });
  const of = { companyId: 'told-water', unitId: 'u-17' };
  const [head] = headsOf('u-17');
  const outbox = outboxOf('u-17');
  if (!head) throw new Error('examples are missing');
  const page = { limit: 5 };
  const visit = { visitId: 'v-1', technician: 't', date: '2026-04-01', reason: '', by: 'd', at: 1 };
  const principal = { ...of, name: 'key-1', secretHash: 'h' };
  const claim = { ...of, codeHash: 'h', expiresAt: 1, used: null };
  const person = personOf({});
  const entry = { by: 'd', at: 1, what: 'Plan a visit', unitId: of.unitId, detail: null };
  // One call of each method, so that the compiler finds one that is left out.
  const calls: { [Operation in keyof Store]: () => Promise<unknown> } = {
    putFacts: () => store.putFacts([{ unit: of, facts }]),
    copies: () => store.copies(of, [{ id: 'e-1' }]),
    facts: () => store.facts(of, page),
    putHead: () => store.putHead(of, 0, { head, basis: 'b', outbox }),
    unit: () => store.unit(of, { fresh: false }),
    clearOutbox: () => store.clearOutbox(of, 1),
    putCheckpoints: () => store.putCheckpoints(of, [{ key: 'key-1', head }]),
    checkpoint: () => store.checkpoint(of, 'key-1'),
    putAlert: () => store.putAlert(of, 1, 'a-1', alertOf({})),
    putActs: () => store.putActs(of, 1, 'a-1', []),
    alert: () => store.alert(of, 'a-1'),
    alertsOf: () => store.alertsOf(of),
    alerts: () => store.alerts(of.companyId, true, page),
    putTold: () => store.putTold(of, 'a-1'),
    wasTold: () => store.wasTold(of, 'a-1'),
    dropAlert: () => store.dropAlert(of, 1, 'a-1'),
    putMonth: () => store.putMonth(of, 1, head.state.month),
    dropMonth: () => store.dropMonth(of, 1, head.state.month.from),
    months: () => store.months(of),
    putRecords: () => store.putRecords(of.companyId, [recordOf(of.companyId, of.unitId)]),
    records: () => store.records(of.companyId, page),
    revision: () => store.revision(of.companyId),
    putSwept: () => store.putSwept(of.companyId, 1),
    rounds: () => store.rounds(),
    putQuarantined: () => store.putQuarantined([messageOf(of.companyId, 1)]),
    quarantined: () => store.quarantined(of.companyId, page),
    dropQuarantined: () => store.dropQuarantined([messageOf(of.companyId, 1)]),
    putVisit: () => store.putVisit(of, visit),
    visits: () => store.visits(of),
    visitsOn: () => store.visitsOn(of.companyId, '2026-04-01', '2026-04-02'),
    dropVisit: () => store.dropVisit(of, 'v-1'),
    putPrincipal: () => store.putPrincipal(principal),
    principal: () => store.principal(principal.name),
    dropPrincipal: () => store.dropPrincipal(principal.name),
    putClaim: () => store.putClaim(claim),
    claim: () => store.claim(of),
    useClaim: () => store.useClaim(claim, { at: 2, keyHash: 'k' }),
    dropClaim: () => store.dropClaim(of),
    putPerson: () => store.putPerson(of.companyId, person),
    personOf: () => store.personOf(person.mail),
    people: () => store.people(of.companyId),
    dropPerson: () => store.dropPerson(of.companyId, person.mail),
    putAttention: () => store.putAttention(of, 1, rowOf({ unitId: of.unitId })),
    attention: () => store.attention(of.companyId, page),
    dropAttention: () => store.dropAttention(of, 1),
    putAudited: () => store.putAudited(of.companyId, entry),
    audited: () => store.audited(of.companyId, page),
    dropAudited: () => store.dropAudited(of.companyId, 'key-1'),
    putCompany: () => store.putCompany({ companyId: of.companyId, name: 'Told', channels: [], rules: {} }),
    company: () => store.company(of.companyId),
    companies: () => store.companies(),
  };
  for (const call of Object.values(calls)) await call();
  expect([...took.keys()].sort()).toEqual(Object.keys(calls).sort());
  for (const [operation, capacities] of took) {
    const isWrite = /^(put|drop|clear|use)/.test(operation);
    for (const { read, write } of capacities) {
      expect(isWrite ? write : read, operation).toBeGreaterThan(0);
      expect(isWrite ? read : write, operation).toBe(0);
    }
  }
  // A fact is a write unit; head and record together, read so that they may be behind, half a read unit.
  expect(took.get('putFacts')?.reduce((sum, { write }) => sum + write, 0)).toBe(facts.length);
  expect(took.get('unit')).toEqual([{ read: 0.5, write: 0 }]);
});

test('errors of the SDK are told apart by what can be done about them', () => {
  const answer = (name: string, status: number, fault: 'client' | 'server') =>
    storeError(
      new DynamoDBServiceException({
        name,
        $fault: fault,
        $metadata: { httpStatusCode: status },
        message: '',
      }),
    ).code;
  expect(answer('ConditionalCheckFailedException', 400, 'client')).toBe('conflict');
  expect(answer('ProvisionedThroughputExceededException', 400, 'client')).toBe('throttled');
  expect(answer('ThrottlingException', 400, 'client')).toBe('throttled');
  expect(answer('RequestLimitExceeded', 400, 'client')).toBe('throttled');
  expect(answer('InternalServerError', 500, 'server')).toBe('unavailable');
  expect(answer('UnknownError', 503, 'client')).toBe('unavailable');
  expect(answer('ValidationException', 400, 'client')).toBe('refused');
  expect(answer('AccessDeniedException', 400, 'client')).toBe('refused');
  expect(storeError(new Error('getaddrinfo ENOTFOUND')).code).toBe('unavailable');
});

test('a table that is missing is a refusal; one that is there may be made again, if it is ours', async () => {
  const missing = dynamoStore({ client: table.client, tableName: 'no-such-table' });
  await expect(missing.company('fenwick-water')).rejects.toMatchObject({ code: 'refused', retryable: false });
  await Promise.all([1, 2].map(() => createTable(table.client, 'made-twice')));
  await createTable(table.client, 'made-twice');
  expect(await dynamoStore({ client: table.client, tableName: 'made-twice' }).companies()).toEqual([]);
  const keys = { AttributeDefinitions: [PK], KeySchema: [{ AttributeName: 'pk', KeyType: 'HASH' as const }] };
  const foreign = { ...keys, TableName: 'foreign', BillingMode: 'PAY_PER_REQUEST' as const };
  await table.client.send(new CreateTableCommand(foreign));
  await expect(createTable(table.client, 'foreign')).rejects.toMatchObject({ code: 'refused' });
});

test('a peer that accepts and never answers is given up', async () => {
  const frozen = createServer();
  await new Promise<void>((resolve) => frozen.listen(0, '127.0.0.1', resolve));
  const address = frozen.address();
  const port = typeof address === 'object' ? address?.port : undefined;
  const options = clientOptions({ DYNAMODB_ENDPOINT: `http://127.0.0.1:${port}` });
  const client = new DynamoDBClient({ ...options, maxAttempts: 1 });
  try {
    const store = dynamoStore({ client, tableName: table.tableName });
    await expect(store.company('fenwick-water')).rejects.toMatchObject({ code: 'unavailable' });
  } finally {
    client.destroy();
    frozen.close();
  }
});
