import { SQSClient } from '@aws-sdk/client-sqs';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { deadLettersOf } from '../../../../infra/aws/parts/deadLetters.ts';
import { deadQueue } from '../../../../infra/aws/parts/deadQueue.ts';
import { sqsOutlet } from '../../../../infra/aws/parts/sqsOutlet.ts';
import { type LocalSqs, localSqs } from '../../../support/aws/sqs.ts';

let sqs: LocalSqs;
let client: SQSClient;

beforeEach(async () => {
  sqs = await localSqs();
  client = new SQSClient({
    endpoint: sqs.endpoint,
    region: 'us-east-2',
    credentials: { accessKeyId: 'a', secretAccessKey: 'b' },
  });
});
afterEach(async () => {
  client.destroy();
  await sqs.close();
});

function letters() {
  const watched = (name: string, fifo: boolean) => {
    const suffix = fifo ? '.fifo' : '';
    const dead = sqs.urlOf(`${name}-dead${suffix}`);
    return {
      name,
      spec: { maxReceives: 8 },
      dead: deadQueue(client, dead),
      outlet: sqsOutlet({ client, url: sqs.urlOf(`${name}${suffix}`), fifo }),
      park: (bodies: readonly string[], group = 'g') =>
        sqsOutlet({ client, url: dead, fifo }).send(bodies.map((body) => ({ body, group }))),
    };
  };
  const ingest = watched('ingest', false);
  const assess = watched('assess', true);
  return { ingest, assess, all: deadLettersOf([ingest, assess]) };
}

const of = (companyId: string, n: number) => JSON.stringify({ companyId, n });
const numbers = (queue: string) => (sqs.queues.get(queue) ?? []).map(({ body }) => body);

test('a company sees its own, however many, and looking takes nothing away', async () => {
  const { ingest, all } = letters();
  const theirs = Array.from({ length: 23 }, (_, n) => of('acme', n));
  await ingest.park([...theirs, of('other', 1), 'no JSON', '"no message"']);
  for (let look = 0; look < 2; look += 1) {
    const seen = await all.list({ companyId: 'acme' });
    expect(seen.map(({ body }) => body).sort()).toEqual([...theirs].sort());
    expect(seen[0]).toMatchObject({ queue: 'ingest', receives: 8, parkedAt: 1545082649183 });
  }
  expect(numbers('ingest-dead').length).toBe(26);
  const now = Date.now();
  expect((sqs.queues.get('ingest-dead') ?? []).every(({ hiddenUntil }) => hiddenUntil <= now)).toBe(true);
});

test('its own are sent again, in order within a group, and those of others stay', async () => {
  const { ingest, assess, all } = letters();
  await ingest.park([of('acme', 1), of('other', 1)]);
  // More of one group than are seen at once.
  const many = Array.from({ length: 14 }, (_, n) => of('acme', n));
  await assess.park(many, 'acme/u-1');
  await assess.park([of('other', 2)], 'other/u-2');
  expect(await all.sendAgain({ companyId: 'acme' })).toBe(15);
  expect(numbers('ingest')).toEqual([of('acme', 1)]);
  expect(numbers('assess.fifo')).toEqual(many);
  expect((sqs.queues.get('assess.fifo') ?? []).every(({ group }) => group === 'acme/u-1')).toBe(true);
  expect(numbers('ingest-dead')).toEqual([of('other', 1)]);
  expect(numbers('assess-dead.fifo')).toEqual([of('other', 2)]);
});

test('what cannot be sent again stays where it is', async () => {
  const { ingest, all } = letters();
  await ingest.park([of('acme', 1)]);
  sqs.fails = () => true;
  await expect(all.sendAgain({ companyId: 'acme' })).rejects.toMatchObject({ code: 'not-taken' });
  expect(numbers('ingest-dead')).toEqual([of('acme', 1)]);
  expect(await all.list({ companyId: 'acme' })).toHaveLength(1);
});
