import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ClassicLevel } from 'classic-level';
import fc from 'fast-check';
import { afterEach, beforeEach, expect, test } from 'vitest';
import type { DeadLetter } from '../../../infra/local/deadLetters.ts';
import { GroupCommit } from '../../../infra/local/groupCommit.ts';
import { type Batch, LocalQueue, type QueueOptions } from '../../../infra/local/queue.ts';
import type { QueueSpec } from '../../../infra/topology.ts';

let folder: string;
let database: ClassicLevel;

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'brinebell-queue-'));
});

afterEach(async () => {
  await database.close();
  await rm(folder, { recursive: true });
});

async function open(path: string, spec: QueueSpec, options: Partial<QueueOptions> = {}): Promise<LocalQueue> {
  database = new ClassicLevel(path);
  await database.open();
  return LocalQueue.open('q', spec, {
    database,
    commit: new GroupCommit(database),
    now: Date.now,
    onError: (error) => {
      throw error;
    },
    backoffMs: () => 0,
    ...options,
  });
}

async function lettersOf(queue: LocalQueue): Promise<DeadLetter[]> {
  const letters: DeadLetter[] = [];
  for await (const letter of queue.dead.all()) letters.push(letter);
  return letters;
}

/** What happens to a queue: messages are sent, a batch is handed out, one that is out is settled, we are killed. */
const happening = fc.oneof(
  { weight: 3, arbitrary: fc.record({ send: fc.array(fc.constantFrom('a', 'b', 'c'), { maxLength: 8 }) }) },
  { weight: 4, arbitrary: fc.record({ receive: fc.constant(true) }) },
  {
    weight: 4,
    arbitrary: fc.record({ settle: fc.nat(3), failing: fc.array(fc.boolean(), { maxLength: 5 }) }),
  },
  { weight: 1, arbitrary: fc.record({ killed: fc.constant(true) }) },
);

/** The queue as it ought to be: per group what was sent and neither deleted nor parked, with what is out. */
class Model {
  readonly groups = new Map<string, { body: string; receives: number; out: boolean }[]>();
  readonly parked = new Set<string>();

  of(group: string) {
    const messages = this.groups.get(group) ?? [];
    this.groups.set(group, messages);
    return messages;
  }

  get all() {
    return [...this.groups.values()].flat();
  }
}

const SPEC = { batchSize: 3, visibilitySeconds: 600, maxReceives: 3 };

for (const [kind, fifo, gathers] of [
  ['a first-in-first-out', true, {}],
  ['a plain', false, {}],
  ['a gathering', false, { windowSeconds: 0.001 }],
] as const) {
  test(`${kind} queue hands out as its model does, killed or not`, async () => {
    let run = 0;
    await fc.assert(
      fc.asyncProperty(fc.array(happening, { maxLength: 40 }), async (happenings) => {
        run += 1;
        const path = join(folder, String(run));
        const spec = { ...SPEC, fifo, ...gathers };
        let queue = await open(path, spec);
        const model = new Model();
        let out: { batch: Batch; group: string }[] = [];
        let sent = 0;

        const receive = async () => {
          const batch = await queue.receive();
          if (!batch) throw new Error('the queue closed by itself');
          const group = batch.messages[0]?.body.split(' ')[0] ?? '';
          const bodies = batch.messages.map(({ body }) => body);
          if (fifo) {
            const waiting = model.of(group);
            expect(waiting.filter((message) => message.out)).toEqual([]);
            expect(bodies).toEqual(waiting.slice(0, bodies.length).map(({ body }) => body));
          }
          for (const message of batch.messages) {
            const known = model.all.find(({ body }) => body === message.body);
            if (!known) throw new Error(`${message.body} is handed out after it was deleted`);
            expect(known.out).toBe(false);
            known.out = true;
            known.receives += 1;
            expect(message.receives).toBe(known.receives);
          }
          // What was handed out before comes alone.
          if (batch.messages.some(({ receives }) => receives > 1)) expect(bodies).toHaveLength(1);
          expect(bodies.length).toBeLessThanOrEqual(spec.batchSize);
          return { batch, group };
        };
        const settle = async ({ batch }: { batch: Batch }, failing: readonly boolean[]) => {
          const failed = batch.messages.filter((_, index) => failing[index]);
          await batch.settle(new Map(failed.map(({ id }) => [id, 'no'])));
          for (const { id, body, receives } of batch.messages) {
            const comesBack = failed.some((each) => each.id === id) && receives < spec.maxReceives;
            for (const messages of model.groups.values()) {
              const at = messages.findIndex((each) => each.body === body);
              if (at === -1) continue;
              if (comesBack) Object.assign(messages[at] ?? {}, { out: false });
              else messages.splice(at, 1);
            }
            if (failed.some((each) => each.id === id) && !comesBack) model.parked.add(body);
          }
        };
        const available = () =>
          [...model.groups.values()].some((messages) =>
            fifo
              ? messages.length > 0 && !messages.some((each) => each.out)
              : messages.some((each) => !each.out),
          );

        for (const happens of happenings) {
          if ('send' in happens) {
            const messages = happens.send.map((group) => ({ group, body: `${group} ${sent++}` }));
            await queue.send(messages);
            for (const { group, body } of messages) model.of(group).push({ body, receives: 0, out: false });
          } else if ('receive' in happens) {
            if (available()) out.push(await receive());
          } else if ('settle' in happens) {
            const [one] = out.splice(happens.settle % Math.max(1, out.length), 1);
            if (one) await settle(one, happens.failing);
          } else {
            queue.close();
            await database.close();
            queue = await open(path, spec);
            out = [];
            for (const message of model.all) {
              message.out = false;
              // It ended the process as often as it may.
              if (message.receives < spec.maxReceives) continue;
              model.parked.add(message.body);
              for (const messages of model.groups.values()) {
                const at = messages.indexOf(message);
                if (at !== -1) messages.splice(at, 1);
              }
            }
            // Those are parked when it is their turn: in the model at once, so let it come to that.
            if (model.all.length === 0) expect(out).toEqual([]);
          }
        }
        for (const one of out) await settle(one, []);
        while (available()) await settle(await receive(), []);
        expect(model.all).toEqual([]);
        queue.close();
        await database.close();
        queue = await open(path, spec);
        // What is left has ended the process as often as it may, and is parked as soon as it is asked for.
        const last = queue.receive();
        await expect.poll(() => queue.depth).toBe(0);
        queue.close();
        expect(await last).toBeUndefined();
        const letters = await lettersOf(queue);
        expect(new Set(letters.map(({ body }) => body))).toEqual(model.parked);
        expect(queue.dead.size).toBe(model.parked.size);
        await database.close();
      }),
      { numRuns: 100 },
    );
  });
}

test('messages are gathered until a batch is full or their time is over, and outlast a kill meanwhile', async () => {
  const spec = { ...SPEC, fifo: false, windowSeconds: 3600 };
  const send = (queue: LocalQueue, ...bodies: string[]) => queue.send(bodies.map((body) => ({ body })));
  const bodiesOf = (batch: Batch | undefined) => batch?.messages.map(({ body }) => body);
  let queue = await open(folder, spec);
  await send(queue, 'one', 'two');
  let early = true;
  const full = queue.receive().then((batch) => {
    expect(early).toBe(false);
    return batch;
  });
  await new Promise((resolve) => setTimeout(resolve, 50));
  early = false;
  await send(queue, 'three', 'four');
  const batch = await full;
  expect(bodiesOf(batch)).toEqual(['one', 'two', 'three']);
  await batch?.settle(new Map());
  queue.close();
  await database.close();

  // An hour is over soon where the clock runs so fast.
  queue = await open(folder, spec, { speed: 36_000 });
  const rest = await queue.receive();
  expect(bodiesOf(rest)).toEqual(['four']);
  // What failed comes one by one, and not an hour apart.
  await send(queue, 'five', 'six', 'seven');
  const three = await queue.receive();
  await three?.settle(new Map(three.messages.map(({ id }) => [id, 'no'])));
  queue.close();
  await database.close();
  queue = await open(folder, { ...spec, windowSeconds: 1 });
  const again = [];
  for (let count = 0; count < 4; count += 1) again.push(...(bodiesOf(await queue.receive()) ?? []));
  expect(again.sort()).toEqual(['five', 'four', 'seven', 'six']);
  queue.close();
});

test('a poisoned message is parked with its reason, delays no other group, and can be sent again', async () => {
  const queue = await open(folder, { ...SPEC, fifo: true }, { backoffMs: () => 0 });
  await queue.send([
    { group: 'sick', body: 'poison' },
    { group: 'sick', body: 'behind it' },
    { group: 'well', body: 'other' },
  ]);
  const order: string[] = [];
  for (let handled = 0; handled < 3 + 1 + 1; handled += 1) {
    const batch = await queue.receive();
    const failed = batch?.messages.filter(({ body }) => body === 'poison') ?? [];
    order.push(...(batch?.messages.map(({ body }) => body) ?? []));
    await batch?.settle(new Map(failed.map(({ id }) => [id, 'cannot be read'])));
    if (queue.depth === 0) break;
  }
  expect(order.indexOf('other')).toBeLessThan(order.lastIndexOf('poison'));
  expect(await lettersOf(queue)).toMatchObject([
    { body: 'poison', group: 'sick', receives: 3, reason: 'cannot be read' },
  ]);
  expect(await queue.sendAgain()).toBe(1);
  expect(queue.dead.size).toBe(0);
  const again = await queue.receive();
  expect(again?.messages).toMatchObject([{ body: 'poison', receives: 1 }]);
  queue.close();
});

test('a batch that nobody settles is handed out again, and settling it late changes nothing', async () => {
  const queue = await open(folder, { ...SPEC, fifo: true, visibilitySeconds: 0.05 });
  await queue.send([{ group: 'a', body: 'one' }]);
  const first = await queue.receive();
  const second = await queue.receive();
  expect(second?.messages).toMatchObject([{ body: 'one', receives: 2 }]);
  await first?.settle(new Map());
  expect(queue.depth).toBe(1);
  await second?.settle(new Map());
  expect(queue.depth).toBe(0);
  queue.close();
});

test('what is sent at once shares a write and keeps its order', async () => {
  const queue = await open(folder, { ...SPEC, fifo: true, batchSize: 1000 });
  let writes = 0;
  database.on('write', () => {
    writes += 1;
  });
  const bodies = Array.from({ length: 500 }, (_, index) => String(index));
  await Promise.all(bodies.map((body) => queue.send([{ group: 'a', body }])));
  expect(writes).toBeLessThan(5);
  const batch = await queue.receive();
  expect(batch?.messages.map(({ body }) => body)).toEqual(bodies);
  queue.close();
});
