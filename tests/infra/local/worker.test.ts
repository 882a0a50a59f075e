import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { SQSBatchResponse, SQSEvent } from 'aws-lambda';
import { afterEach, beforeEach, expect, test } from 'vitest';
import type { LocalQueue } from '../../../infra/local/queue.ts';
import { openQueues, type Queues } from '../../../infra/local/queues.ts';
import { type QueueHandler, startWorker } from '../../../infra/local/worker.ts';

let folder: string;
let queues: Queues;
let queue: LocalQueue;
const logged: unknown[] = [];
const log = {
  debug: () => {},
  info: () => {},
  warn: () => {},
  error: (...what: unknown[]) => void logged.push(what),
};

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'brinebell-worker-'));
  logged.length = 0;
  queues = await openQueues(folder, {
    now: Date.now,
    backoffMs: () => 0,
    onError: (error) => {
      throw error;
    },
  });
  queue = queues.assess;
});

afterEach(async () => {
  queues.stop();
  await queues.close();
  await rm(folder, { recursive: true });
});

function work(handler: QueueHandler, timeoutSeconds = 5): () => Promise<void> {
  return startWorker(queue, handler, { name: 'assess', spec: { timeoutSeconds }, log });
}

const done: SQSBatchResponse = { batchItemFailures: [] };

function failing(...ids: unknown[]): SQSBatchResponse {
  return { batchItemFailures: ids.map((itemIdentifier) => ({ itemIdentifier })) } as SQSBatchResponse;
}

function sixMessages() {
  return queue.send([...'abcdef'].map((body) => ({ group: 'unit', body })));
}

test('a function is handed its messages as Lambda would hand them, and only failed ones again', async () => {
  const events: SQSEvent[] = [];
  const ended = work(async (event, context) => {
    events.push(event);
    expect(context.getRemainingTimeInMillis()).toBeGreaterThan(0);
    const poisoned = event.Records.filter(({ body }) => body === 'c');
    return events.length === 1 ? failing(...poisoned.map(({ messageId }) => messageId)) : done;
  });
  await sixMessages();
  await expect.poll(() => queue.depth).toBe(0);
  expect(events.map(({ Records }) => Records.map(({ body }) => body).join(''))).toEqual(['abcdef', 'c']);
  expect(events[1]?.Records[0]).toMatchObject({
    eventSource: 'aws:sqs',
    attributes: { ApproximateReceiveCount: '2', MessageGroupId: 'unit' },
    // As `printf c | md5sum` has it.
    md5OfBody: '4a8a08f09d37b73795649038408b5f33',
  });
  queues.stop();
  await ended();
});

const answers: Record<string, QueueHandler> = {
  'that throws': async () => {
    throw new Error('broken');
  },
  'that never ends': () => new Promise(() => {}),
  'that names a message of no batch': async () => failing('unheard-of'),
  'that names none': async () => failing(''),
  'that names nothing': async () => failing(undefined),
  'that answers nonsense': async () => JSON.parse('{"batchItemFailures":"all"}'),
};

for (const [which, handler] of Object.entries(answers)) {
  test(`a function ${which} has failed on its whole batch`, async () => {
    let calls = 0;
    const handled: string[] = [];
    const ended = work(async (event, context) => {
      calls += 1;
      if (calls === 1) return handler(event, context);
      handled.push(...event.Records.map(({ body }) => body));
      return done;
    }, 0.1);
    await sixMessages();
    await expect.poll(() => queue.depth).toBe(0);
    expect(handled).toEqual([...'abcdef']);
    expect(logged).toHaveLength(1);
    queues.stop();
    await ended();
  });
}

for (const [which, answer] of Object.entries({ nothing: undefined, null: null, 'an empty object': {} })) {
  test(`a function that answers ${which} has failed on nothing`, async () => {
    let calls = 0;
    const ended = work(async () => {
      calls += 1;
      return answer as SQSBatchResponse | undefined;
    });
    await sixMessages();
    await expect.poll(() => queue.depth).toBe(0);
    expect(calls).toBe(1);
    queues.stop();
    await ended();
  });
}

test('a function is handed several groups at once, but never two batches of one', async () => {
  const underway = new Set<string | undefined>();
  let most = 0;
  const ended = work(async ({ Records }) => {
    const group = Records[0]?.attributes.MessageGroupId;
    expect(underway.has(group)).toBe(false);
    underway.add(group);
    most = Math.max(most, underway.size);
    await new Promise((resolve) => setTimeout(resolve, 5));
    underway.delete(group);
    return done;
  });
  for (let round = 0; round < 30; round += 1) {
    await queue.send([...'xyz'].map((group) => ({ group, body: String(round) })));
  }
  await expect.poll(() => queue.depth).toBe(0);
  expect(most).toBe(3);
  expect(logged).toEqual([]);
  queues.stop();
  await ended();
});

test('what is under way is ended before the worker is, and nothing else is begun', async () => {
  const begun: string[] = [];
  let finish: () => void = () => {};
  const ended = work(async ({ Records }) => {
    begun.push(...Records.map(({ body }) => body));
    await new Promise<void>((resolve) => {
      finish = resolve;
    });
    return done;
  });
  await queue.send([{ group: 'a', body: 'first' }]);
  await expect.poll(() => begun).toEqual(['first']);
  await queue.send([{ group: 'a', body: 'second' }]);
  queues.stop();
  let over = false;
  const ending = ended().then(() => {
    over = true;
  });
  expect(over).toBe(false);
  finish();
  await ending;
  expect(begun).toEqual(['first']);
  expect(queue.depth).toBe(1);
});
