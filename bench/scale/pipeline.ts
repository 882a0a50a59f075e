import { FUNCTIONS, QUEUES, type QueueName, type QueueSpec } from '../../infra/topology.ts';
import { Chance } from '../../lib/simulation/chance.ts';
import { batchSeconds } from './batchSeconds.ts';
import { silenceReads } from './bounds.ts';
import { ASSUMED, LIMITS } from './limits.ts';
import type { BatchTimes, Measured } from './measured.ts';
import type { Settings } from './settings.ts';
import type { Cohort } from './simulator/backlog.ts';
import { Bucket } from './simulator/bucket.ts';
import { Account } from './simulator/lambda.ts';
import { Stage } from './simulator/stage.ts';
import type { Need, StageOptions } from './simulator/stageOptions.ts';
import { Timeline } from './simulator/timeline.ts';
import { costsOf } from './unitCosts.ts';

/** The fleet, as far as the pipeline's load depends on it. */
export interface Fleet {
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
  const queue: QueueSpec = QUEUES[source.queue];
  const send = name === 'notify' ? ASSUMED.mailMs : ASSUMED.sendMs;
  return {
    name,
    batchSize: queue.batchSize,
    windowSeconds: queue.windowSeconds ?? 0,
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
