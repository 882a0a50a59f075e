/**
 * Times the real handlers, a batch at a time, in a process that does nothing else: its CPU is theirs and the SDK's. The
 * table is in another process. How many calls wait for one another is found by making every call take longer.
 */
import { setTimeout as pause } from 'node:timers/promises';
import { DynamoDBClient } from '@aws-sdk/client-dynamodb';
import type { SQSEvent } from 'aws-lambda';
import { assess } from '../../../functions/assess.ts';
import { cloudMeter } from '../../../functions/cloudMeter.ts';
import { ingest } from '../../../functions/ingest.ts';
import { notify } from '../../../functions/notify.ts';
import type { Outgoing, Ports } from '../../../functions/ports.ts';
import { sentNotices } from '../../../functions/sentNotices.ts';
import { sweep } from '../../../functions/sweep.ts';
import { contextOf } from '../../../infra/local/lambdaShape.ts';
import { clientOptions } from '../../../lib/store/client.ts';
import { dynamoStore } from '../../../lib/store/dynamoStore.ts';
import type { Sender } from '../../../lib/store/sender.ts';
import { chunks } from '../../../shared/chunks.ts';
import { noLog } from '../../../tests/support/pipeline.ts';
import type { BatchTimes } from '../measured.ts';
import { COMPANY, eventOf, linesOf, round, silently, type TimedUnit, takeAll } from './feeding.ts';

/** What the measuring process is given. */
export interface HandlersTask {
  readonly endpoint: string;
  readonly tableName: string;
  /** Sound units, whose batches are timed. */
  readonly sound: readonly TimedUnit[];
  /** Units with faults, whose history makes the notices that are timed. */
  readonly faulty: readonly TimedUnit[];
  /** Events before it are history. */
  readonly from: number;
}

export interface HandlersTimed {
  readonly handlers: Record<'ingest' | 'assess' | 'noon' | 'notify', BatchTimes[]>;
  readonly sweepCpuMsAUnit: number;
  readonly rssMb: number;
}

type Handler = (event: SQSEvent) => Promise<unknown>;

const DAY_MS = 86_400_000;
/** So much longer every call takes where calls that wait for one another are counted, milliseconds. */
const LONGER_MS = 60;
const INGEST_SIZES = [1, 10, 100];
const FIFO_SIZES = [1, 10];
/** Runs of a batch at ordinary pace, and of each kind that is slowed. */
const RUNS = 5;
const SLOW_RUNS = 3;

/** Times all handlers. */
export async function timeHandlers({
  endpoint,
  tableName,
  sound,
  faulty,
  from,
}: HandlersTask): Promise<HandlersTimed> {
  const delay = { table: 0, send: 0 };
  const client = new DynamoDBClient(clientOptions({ DYNAMODB_ENDPOINT: endpoint }));
  const slowed: Sender = {
    async send(command) {
      if (delay.table > 0) await pause(delay.table);
      return client.send(command);
    },
  };
  const sent: Record<keyof Ports['queues'], Outgoing[]> = {
    ...{ ingest: [], assess: [], notify: [], archive: [] },
  };
  const outlet = (queue: keyof typeof sent) => ({
    send: async (messages: readonly Outgoing[]) => {
      if (delay.send > 0) await pause(delay.send);
      sent[queue].push(...messages);
    },
  });
  let clock = from;
  const ports: Ports = {
    store: dynamoStore({ client: slowed, tableName }),
    queues: {
      ingest: outlet('ingest'),
      assess: outlet('assess'),
      notify: outlet('notify'),
      archive: outlet('archive'),
    },
    now: () => clock,
    meter: cloudMeter({
      namespace: 'brinebell',
      service: 'brinebell',
      write: (line) => process.stdout.write(`${line}\n`),
    }),
    log: noLog,
  };
  await ports.store.putCompany({
    companyId: COMPANY,
    name: COMPANY,
    channels: [{ type: 'mail', to: ['dispatch@larkwater.example'] }],
    rules: {},
  });
  await ports.store.putRecords(
    COMPANY,
    [...sound, ...faulty].map(({ record }) => record),
  );
  const handlers = { ingest: ingest(ports), assess: assess(ports) };
  const tell = notify(ports, {
    carriers: { mail: { send: async () => pause(delay.send) } },
    sent: sentNotices(client, tableName),
    baseUrl: new URL('https://water.example'),
    answerSecret: async () => 'a secret of the bench',
  });
  const tellAll: Handler = (event) => tell(event, contextOf('notify', 'bench', 900));

  const quiet = silently();
  const history = linesOf([...sound, ...faulty]).filter(({ at }) => at < from);
  for (const batch of chunks(history, 100)) {
    await handlers.ingest(
      eventOf(
        'ingest',
        batch.map(({ message }) => message),
      ),
    );
  }
  for (const batch of chunks(takeAll(sent.assess), 10)) await handlers.assess(eventOf('assess', batch));
  const notices = takeAll(sent.notify).filter(({ body }) => !body.includes('"silent-unit"'));

  const timed: HandlersTimed['handlers'] = { ingest: [], assess: [], noon: [], notify: [] };
  const rest = linesOf(sound).filter(({ at }) => at >= from);
  const nextLines = (count: number) => {
    const some = rest.splice(0, count);
    clock = some.at(-1)?.at ?? clock;
    return some.map(({ message }) => message);
  };
  // What is compiled only once it has run often is compiled by then.
  for (let warm = 0; warm < 5; warm += 1) await handlers.ingest(eventOf('ingest', nextLines(20)));
  for (const batch of chunks(takeAll(sent.assess), 10)) await handlers.assess(eventOf('assess', batch));

  for (const size of INGEST_SIZES) {
    timed.ingest.push(await timeOne('ingest', handlers.ingest, size, () => nextLines(size)));
  }
  // Every unit's facts of the day in one message, as `ingest` sends them.
  for (const size of FIFO_SIZES) {
    timed.assess.push(await timeOne('assess', handlers.assess, size, () => sent.assess.splice(0, size)));
  }
  // A unit of which facts are waiting would look as if it had fallen silent.
  for (const batch of chunks(takeAll(sent.assess), 10)) await handlers.assess(eventOf('assess', batch));
  const noons = sound.map(({ record }, index) => ({
    body: JSON.stringify({ companyId: COMPANY, unitId: record.unitId, facts: [], noon: clock + index }),
    group: record.unitId,
  }));
  for (const size of FIFO_SIZES) {
    let next = 0;
    const some = () => {
      next += size;
      return noons.slice(next - size, next);
    };
    timed.noon.push(await timeOne('assess', handlers.assess, size, some));
  }
  for (const size of FIFO_SIZES) {
    timed.notify.push(await timeOne('notify', tellAll, size, () => notices.splice(0, size)));
  }
  takeAll(sent.assess);
  // By then it has been noon at every site.
  clock += DAY_MS;
  const before = process.cpuUsage();
  await sweep(ports)();
  const used = process.cpuUsage(before);
  const sweepCpuMsAUnit = (used.user + used.system) / 1000 / Math.max(1, sent.assess.length);
  quiet.end();
  client.destroy();
  return { handlers: timed, sweepCpuMsAUnit, rssMb: process.resourceUsage().maxRSS / 1024 };

  /** Some runs at ordinary pace, and some with slower calls. */
  async function timeOne(
    queue: string,
    handler: Handler,
    size: number,
    some: () => Outgoing[],
  ): Promise<BatchTimes> {
    const plain = await runs(RUNS);
    delay.table = LONGER_MS;
    const slowTable = await runs(SLOW_RUNS);
    delay.table = 0;
    delay.send = LONGER_MS;
    const slowSends = await runs(SLOW_RUNS);
    delay.send = 0;
    return {
      messages: size,
      cpuMs: round(plain.cpuMs, 2),
      tableRounds: round(Math.max(0, slowTable.wallMs - plain.wallMs) / LONGER_MS, 1),
      sendRounds: round(Math.max(0, slowSends.wallMs - plain.wallMs) / LONGER_MS, 1),
      logBytes: Math.round(plain.bytes),
    };

    /** The least of some runs: whatever else the machine is busy with only adds to it. */
    async function runs(count: number) {
      const all: { cpuMs: number; wallMs: number; bytes: number }[] = [];
      for (let run = 0; run < count; run += 1) all.push(await run1());
      const least = (value: (run: (typeof all)[number]) => number) => Math.min(...all.map(value));
      return {
        cpuMs: least(({ cpuMs }) => cpuMs),
        wallMs: least(({ wallMs }) => wallMs),
        bytes: least(({ bytes }) => bytes),
      };
    }

    async function run1() {
      const messages = some();
      if (messages.length < size) throw new Error(`${queue}: too few messages are left: take more units`);
      const event = eventOf(queue, messages);
      const written = quiet.bytes();
      const cpu = process.cpuUsage();
      const began = performance.now();
      await handler(event);
      const wallMs = performance.now() - began;
      const { user, system } = process.cpuUsage(cpu);
      return { cpuMs: (user + system) / 1000, wallMs, bytes: quiet.bytes() - written };
    }
  }
}
