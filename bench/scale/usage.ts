import { timesOf } from './batchSeconds.ts';
import type { Drivers } from './drivers.ts';
import type { Measured } from './measured.ts';
import type { PriceName } from './prices.ts';
import { INDEX_WRITES, listedOf } from './unitCosts.ts';
import { allOf } from './unitDay.ts';

/** How much of everything a month takes, in the units of its price. */
export type Usage = Readonly<Record<PriceName, number>>;

export const DAYS_A_MONTH = 365.25 / 12;
const SECONDS_A_DAY = 86_400;
const GB = 1e9;
/** What a receive, a deletion and a send take at most (API reference of Amazon SQS). */
const A_CALL = 10;
/** Bytes of items by docs/data.md, and 100 that DynamoDB counts on top of each (Developer Guide, from memory, unverified). */
const BYTES = {
  fact: 440 + 100,
  head: 1_050 + 100,
  record: 580 + 100,
  checkpoint: 830 + 100,
  month: 250 + 100,
};
const CHECKPOINTS_A_YEAR = 36;
/** A fact in Parquet with its line; a guess, no source: the archive's own bench has the real one. */
const ARCHIVED_BYTES = 120;
/** Lines that AWS Lambda itself writes of an invocation; a guess, no source. */
const PLATFORM_LOG_BYTES = 400;
const LOG_MONTHS = 3;
/** Long polls of a queue that has nothing, at a time; and how long each lasts. */
const IDLE_POLLERS = 5;
const POLL_SECONDS = 20;
const QUEUES = { standard: 3, fifo: 1 };
/**
 * Metrics: eight counters, of which quarantine has nine reasons, transitions three changes of twelve kinds of alert, and
 * notices three channels; all of them, though a small company sees few. Alarms: a guess, no source.
 */
const WATCHING = { metrics: 8 - 4 + 9 + 3 * 12 + 3 * 3, alarms: 40, dashboards: 1 };
const REQUEST = { seconds: 0.06, bytes: 20_000 };
const SECRETS = 2;

/** A month's use. Capacity units are those that were counted; nothing is free. */
export function usageOf(measured: Measured, drivers: Drivers): Usage {
  const { meters, companies, people, batches } = drivers;
  const unitDays = meters * DAYS_A_MONTH;
  const events = unitDays * measured.capacity.cold.events;
  const looks = unitDays * lookOf(measured);
  const noons = Math.max(0, looks - events);
  const transitions = unitDays * drivers.transitionsAUnitDay;
  const requests = people * drivers.requestsAPersonDay * DAYS_A_MONTH;
  const questions = (meters * drivers.questionsAUnitYear) / 12;
  const connects = unitDays * drivers.connects;
  const messages = events + connects;
  const invocations = {
    ingest: events / batches.ingest.messages,
    assess: events / batches.assess.messages,
    noon: noons / batches.noon.messages,
    notify: transitions / batches.notify.messages,
    sweep: DAYS_A_MONTH * 96,
    api: requests,
  };
  const seconds =
    invocations.ingest * batches.ingest.seconds +
    invocations.assess * batches.assess.seconds +
    invocations.noon * batches.noon.seconds +
    invocations.notify * batches.notify.seconds +
    requests * REQUEST.seconds +
    (noons * measured.sweepCpuMsAUnit) / 1000;
  const gbSeconds = (seconds * drivers.memoryMb) / 1024;
  const allInvocations = Object.values(invocations).reduce((sum, each) => sum + each, 0);
  const capacity = capacityOf(measured, drivers);
  const archiveFiles = archiveFilesOf(drivers, events / DAYS_A_MONTH) * DAYS_A_MONTH;
  const { standard, fifo } = pollsOf();
  const logGb =
    logBytes(measured, { ...invocations, events, noons, transitions, allInvocations }, batches) / GB;
  const archiveGb = (meters * measured.capacity.cold.events * 365 * drivers.years * ARCHIVED_BYTES) / GB;
  return {
    iotMinutes: unitDays * drivers.connectedMinutes,
    iotMessages: Math.min(messages, 1e9),
    iotMessagesNext: Math.min(Math.max(0, messages - 1e9), 4e9),
    iotMessagesLast: Math.max(0, messages - 5e9),
    iotRules: events,
    iotActions: events,
    sqsStandard:
      events + // the rule's action sends each by itself
      2 * callsFor(events, batches.ingest.messages) +
      3 * callsFor(transitions, batches.notify.messages) +
      3 * archiveMessages(drivers, invocations.ingest, batches.ingest.messages) +
      standard,
    // `ingest` sends for each unit by itself, the sweep ten at a time.
    sqsFifo: events + noons / A_CALL + 2 * callsFor(looks, batches.assess.messages) + fifo,
    lambdaRequests: allInvocations,
    lambdaSeconds: Math.min(gbSeconds, 7.5e9),
    lambdaSecondsNext: Math.max(0, gbSeconds - 7.5e9),
    dynamodbWrites: unitDays * capacity.write + companies * DAYS_A_MONTH * capacity.companyWrite,
    dynamodbReads: unitDays * capacity.read + companies * DAYS_A_MONTH * capacity.companyRead,
    dynamodbStorage: tableGb(measured, drivers),
    dynamodbRestore: tableGb(measured, drivers),
    s3Storage: archiveGb,
    s3Puts: archiveFiles,
    s3Gets: archiveFiles,
    // Once a month all of it is read: a trial, or an analyst.
    athena: archiveGb / 1000,
    logsIngest: logGb,
    logsStorage: logGb * LOG_MONTHS,
    metrics: WATCHING.metrics,
    alarms: WATCHING.alarms,
    dashboards: WATCHING.dashboards,
    httpApi: requests,
    cloudfrontRequests: requests,
    cloudfrontOut: (requests * REQUEST.bytes) / GB,
    cognito: people,
    ses: transitions * drivers.mailsATransition + questions * (1 - drivers.smsShare),
    sms: questions * drivers.smsShare,
    kmsKeys: 1,
    // A key of the table is kept for five minutes: from memory, unverified; so often for some ten functions.
    kmsRequests: (10 * DAYS_A_MONTH * SECONDS_A_DAY) / 300,
    secrets: SECRETS,
    secretReads: DAYS_A_MONTH * 100,
    traces: allInvocations * drivers.traced,
    steps: drivers.trialsAMonth * companies * drivers.regionsACompany * 12 * drivers.years,
  };
}

/** Capacity units a unit-day and a company-day: as counted, with what the embedded table does not count. */
export function capacityOf(measured: Measured, { openShare }: Pick<Drivers, 'openShare'>) {
  const { warm, cold, faulty } = measured.capacity;
  const sound = allOf(cold.units);
  const usual = allOf(warm.units);
  const ill = allOf(faulty.units);
  const listed = (of: typeof cold) => listedOf(of.units) * INDEX_WRITES;
  return {
    write: sound.write + listed(cold) + openShare * (ill.write - usual.write + listed(faulty) - listed(warm)),
    read: sound.read + openShare * (ill.read - usual.read),
    companyWrite: allOf(cold.company).write,
    companyRead: allOf(warm.company).read,
  };
}

/** Looks at a unit a day: for its facts and at noon. */
function lookOf({ capacity: { warm } }: Measured): number {
  return warm.units.unit?.calls ?? 0;
}

/** Calls that receive or delete so many messages, a batch at a time. */
function callsFor(messages: number, inBatch: number): number {
  return (messages / inBatch) * Math.ceil(inBatch / A_CALL);
}

/** How many of `groups` turn up among `drawn` that fall on them by chance. */
export function distinct(groups: number, drawn: number): number {
  return groups * (1 - (1 - 1 / groups) ** drawn);
}

/** Messages to the archive queue: one for each company in a batch of `ingest`. */
function archiveMessages({ companies }: Drivers, batches: number, inBatch: number): number {
  return batches * distinct(companies, inBatch);
}

/** Files a day that the archive writes: one for each company, region and month of a batch. */
function archiveFilesOf(drivers: Drivers, eventsADay: number): number {
  const groups = drivers.companies * drivers.regionsACompany;
  return (eventsADay / drivers.archiveBatch) * distinct(groups, drivers.archiveBatch);
}

/** Polls that find nothing. */
function pollsOf(): { standard: number; fifo: number } {
  const each = (IDLE_POLLERS * DAYS_A_MONTH * SECONDS_A_DAY) / POLL_SECONDS;
  return { standard: QUEUES.standard * each, fifo: QUEUES.fifo * each };
}

function tableGb({ capacity: { cold } }: Measured, { meters, years }: Drivers): number {
  const facts = cold.events * 365 * years * BYTES.fact;
  const yearly = years * (CHECKPOINTS_A_YEAR * BYTES.checkpoint + 12 * BYTES.month);
  return (meters * (facts + yearly + BYTES.head + BYTES.record)) / GB;
}

interface Counts {
  readonly events: number;
  readonly noons: number;
  readonly transitions: number;
  readonly allInvocations: number;
}

function logBytes({ handlers }: Measured, counts: Counts, batches: Drivers['batches']): number {
  const each = (times: keyof typeof handlers, messages: number) =>
    timesOf(handlers[times], messages).logBytes / messages;
  return (
    counts.events * (each('ingest', batches.ingest.messages) + each('assess', batches.assess.messages)) +
    counts.noons * each('noon', batches.noon.messages) +
    counts.transitions * each('notify', batches.notify.messages) +
    counts.allInvocations * PLATFORM_LOG_BYTES
  );
}
