import { FUNCTIONS, QUEUES, type QueueName, type QueueSpec } from '../../infra/topology.ts';
import { Chance } from '../../lib/simulation/chance.ts';
import { silenceReads } from './bounds.ts';
import { ASSUMED, LIMITS } from './limits.ts';
import type { BatchTimes, Measured } from './measured.ts';
import type { Cohort } from './simulator/backlog.ts';
import { Bucket } from './simulator/bucket.ts';
import { Account } from './simulator/lambda.ts';
import { type Need, Stage, type StageOptions } from './simulator/stage.ts';
import { Timeline } from './simulator/timeline.ts';
import { costsOf } from './unitCosts.ts';

/** What stands still while a scenario runs: what was asked of AWS, and how the functions are set. */
export interface Settings {
  readonly publishes: number;
  /** Connects a second, where meters connect to report; infinite where they stay connected. */
  readonly connects: number;
  /** Concurrency of the account that functions without a reservation share. */
  readonly concurrency: number;
  /** Batches of one queue at a time, at most. */
  readonly batchesMost: number;
  readonly batchesAtFirst: number;
  readonly batchesAMinute: number;
  /** Batches of the queue `notify`, at most. */
  readonly notifyBatchesMost: number;
  readonly memoryMb: number;
  /** Units a second that the table takes at first. */
  readonly tableWrites: number;
  readonly tableReads: number;
  readonly tableQuota: number;
  readonly fifoCalls: number;
  readonly inFlight: number;
  readonly mails: number;
  /** Whether a company's lists and the companies' own items each have a partition for themselves that is no faster than one. */
  readonly hotPartitions: boolean;
}

/** How an account stands when nobody has asked for anything, with the settings of the stage for a large fleet. */
export const DEFAULTS: Settings = {
  publishes: LIMITS.iot.publishes.value,
  connects: Number.POSITIVE_INFINITY,
  // Of a thousand, what the stage for a large fleet keeps for the API (200), the sweep (2) and the report (1).
  concurrency: LIMITS.lambda.concurrency.value - 203,
  batchesMost: 200,
  batchesAtFirst: LIMITS.sqs.batchesAtFirst.value,
  batchesAMinute: LIMITS.sqs.batchesAMinute.value,
  notifyBatchesMost: 200,
  memoryMb: 1024,
  tableWrites: LIMITS.dynamodb.writes.value,
  tableReads: LIMITS.dynamodb.reads.value,
  tableQuota: LIMITS.dynamodb.tableWrites.value,
  fifoCalls: LIMITS.sqs.fifoCalls.value,
  inFlight: LIMITS.sqs.inFlight.value,
  mails: LIMITS.ses.mails.value,
  hotPartitions: true,
};

/** The fleet, as far as the pipeline's load depends on it. */
export interface Fleet {
  readonly meters: number;
  readonly companies: number;
  /** Share of the units with an open alert: their row of the company's list is written at every look. */
  readonly openShare: number;
  /** Changes of alerts a look at a unit. */
  readonly transitionsALook: number;
  /**
   * Units of each company that have fallen silent together. Then every notice is one of those, which are told of in one
   * mail; but each reads all open alerts of its company to find that out.
   */
  readonly silentACompany?: number;
}

/** What goes through the functions, wired as the topology says. */
export interface Pipeline {
  readonly timeline: Timeline;
  readonly account: Account;
  readonly stages: Readonly<Record<'ingest' | 'assess' | 'notify', Stage>>;
  readonly limits: Readonly<
    Record<'publishes' | 'connects' | 'writes' | 'reads' | 'lists' | 'companies' | 'mails' | 'sends', Bucket>
  >;
}

/** What a look at a unit is for. */
export type Look = 'facts' | 'noon';

/** A batch window that the service asks for where more than ten messages make a batch (API reference, CreateEventSourceMapping). */
const LEAST_WINDOW = 1;
const SEED = 1;

/** Builds the pipeline anew. */
export function buildPipeline(measured: Measured, fleet: Fleet, settings: Settings, look: Look): Pipeline {
  const timeline = new Timeline();
  const chance = new Chance(SEED);
  const account = new Account(timeline, {
    concurrency: settings.concurrency,
    scaling: { atOnce: LIMITS.lambda.scalingAtOnce.value, aSecond: LIMITS.lambda.scalingASecond.value },
  });
  const hot = (rate: number) => new Bucket(settings.hotPartitions ? rate : Number.POSITIVE_INFINITY);
  const limits = {
    publishes: new Bucket(settings.publishes),
    connects: new Bucket(settings.connects),
    writes: new Bucket(settings.tableWrites),
    reads: new Bucket(settings.tableReads),
    // All companies' lists together: each has a partition of its own.
    lists: hot(LIMITS.dynamodb.partitionWrites.value * fleet.companies),
    companies: hot(LIMITS.dynamodb.partitionReads.value),
    mails: new Bucket(settings.mails),
    sends: new Bucket(settings.fifoCalls),
  };
  const costs = costsOf(measured);
  const each = (bucket: Bucket, amount: number): Need => ({
    bucket,
    amount: (messages) => messages * amount,
  });
  /** Reads of companies' items: an environment asks once for each company that it has not met. */
  const meets = (bucket: Bucket, reads: number): Need => ({
    bucket,
    amount: (messages, { handled }) => {
      const missed = (count: number) => fleet.companies * (1 - 1 / fleet.companies) ** count;
      return reads * (missed(handled) - missed(handled + messages));
    },
  });
  const { openShare, silentACompany: silent = 0 } = fleet;
  const assessed = look === 'facts' ? costs.assess : costs.noon;
  const needs = {
    ingest: [
      each(limits.writes, costs.ingest.write),
      each(limits.reads, costs.ingest.read),
      meets(limits.companies, costs.companyReads.ingest),
      each(limits.sends, 1),
    ],
    assess: [
      each(limits.writes, assessed.write + openShare * costs.open.write),
      each(limits.reads, assessed.read + openShare * costs.open.read),
      each(limits.lists, openShare * costs.open.listWrite),
      meets(limits.companies, costs.companyReads.assess),
    ],
    notify: [
      each(limits.writes, costs.notify.write),
      each(limits.reads, costs.notify.read + (silent > 0 ? silenceReads(silent) / silent : 0)),
      each(limits.mails, silent > 0 ? 1 / silent : 1),
    ],
  };
  const times = {
    ingest: measured.handlers.ingest,
    assess: look === 'facts' ? measured.handlers.assess : measured.handlers.noon,
    notify: measured.handlers.notify,
  };
  const stageOf = (name: 'ingest' | 'assess' | 'notify') => {
    const most = name === 'notify' ? settings.notifyBatchesMost : settings.batchesMost;
    const options = stageOptions(name, times[name], settings, needs[name], most);
    return new Stage(timeline, account, chance, options);
  };
  const stages = { ingest: stageOf('ingest'), assess: stageOf('assess'), notify: stageOf('notify') };
  stages.ingest.onDone = (cohorts) => passOn(cohorts, stages.assess);
  const notices = sharing(fleet.transitionsALook, stages.notify);
  stages.assess.onDone = (cohorts) => notices(cohorts);
  growWith(timeline, limits.writes, settings, stages);
  growWith(timeline, limits.reads, settings, stages);
  return { timeline, account, stages, limits };
}

/** A stage of the pipeline: its queue as the topology has it, its times as they were measured. */
function stageOptions(
  name: QueueName,
  times: readonly BatchTimes[],
  settings: Settings,
  needs: readonly Need[],
  most: number,
): StageOptions {
  const { source } = FUNCTIONS[name];
  const queue: QueueSpec & { windowSeconds?: number } = QUEUES[source.queue];
  const send = name === 'notify' ? ASSUMED.mailMs : ASSUMED.sendMs;
  return {
    name,
    batchSize: queue.batchSize,
    windowSeconds: queue.fifo || queue.batchSize <= 10 ? 0 : Math.max(LEAST_WINDOW, queue.windowSeconds ?? 0),
    visibilitySeconds: queue.visibilitySeconds,
    maxReceives: queue.maxReceives,
    pollers: {
      atFirst: Math.min(most, settings.batchesAtFirst),
      aSecond: settings.batchesAMinute / 60,
      most,
    },
    inFlightMost: settings.inFlight,
    coldSeconds: ASSUMED.coldSeconds,
    seconds: (messages) => batchSeconds(times, messages, { memoryMb: settings.memoryMb, sendMs: send }),
    needs,
    retrySeconds: ASSUMED.sdkRetrySeconds,
  };
}

/** How long a batch takes in the cloud: its CPU at the share of a vCPU that the memory brings, and its calls one by one. */
export function batchSeconds(
  times: readonly BatchTimes[],
  messages: number,
  { memoryMb, sendMs }: { memoryMb: number; sendMs: number },
): number {
  const { cpuMs, tableRounds, sendRounds } = timesOf(times, messages);
  const share = Math.min(1, memoryMb / LIMITS.lambda.mbAVcpu.value) * ASSUMED.vcpuSpeed;
  return (cpuMs / share + tableRounds * ASSUMED.tableMs + sendRounds * sendMs) / 1000;
}

/** Between two sizes that were measured it is a straight line; beyond the largest it goes on as that one by message. */
export function timesOf(times: readonly BatchTimes[], messages: number): Omit<BatchTimes, 'messages'> {
  const above = times.find((each) => each.messages >= messages) ?? times.at(-1);
  const below = times.findLast((each) => each.messages <= messages) ?? times[0];
  if (!above || !below) throw new Error('nothing was measured of this function: run with --measure');
  const part =
    above.messages === below.messages ? 0 : (messages - below.messages) / (above.messages - below.messages);
  const beyond = Math.max(1, messages / above.messages);
  const at = (value: (each: BatchTimes) => number) =>
    (value(below) + part * (value(above) - value(below))) * beyond;
  return {
    cpuMs: at((each) => each.cpuMs),
    tableRounds: at((each) => each.tableRounds),
    sendRounds: at((each) => each.sendRounds),
    logBytes: at((each) => each.logBytes),
  };
}

function passOn(cohorts: readonly Cohort[], to: Stage): void {
  for (const { count, bornAt } of cohorts) to.send(count, bornAt);
}

/** Passes on a share of what is done, whole messages, and remembers the rest for the next. */
function sharing(share: number, to: Stage): (cohorts: readonly Cohort[]) => void {
  let owed = 0;
  return (cohorts) => {
    for (const { count, bornAt } of cohorts) {
      owed += count * share;
      const whole = Math.floor(owed);
      owed -= whole;
      to.send(whole, bornAt);
    }
  };
}

/**
 * An on-demand table takes twice its peak of before within half an hour. Taken at its word: nothing sooner, though it often
 * grows sooner.
 */
function growWith(
  timeline: Timeline,
  bucket: Bucket,
  { tableQuota }: Settings,
  stages: Pipeline['stages'],
): void {
  const look = () => {
    const { now } = timeline;
    bucket.setRate(Math.min(tableQuota, Math.max(bucket.rate, 2 * bucket.peak)), now);
    if (Object.values(stages).some(({ present }) => present > 0))
      timeline.at(now + LIMITS.dynamodb.doubling.value, look);
  };
  timeline.at(LIMITS.dynamodb.doubling.value, look);
}
