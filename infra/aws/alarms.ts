import { keysOf } from '../../shared/records.ts';
import { FUNCTIONS, type FunctionName, QUEUE_NAMES, QUEUES, type QueueName } from '../topology.ts';
import {
  counted,
  ofApi,
  ofFunction,
  ofQueue,
  reputation,
  ruleFailures,
  tableFaults,
  tableThrottles,
} from './alarmMetrics.ts';
import type { AlarmSpec, BudgetSpec, FleetSize } from './alarmSpec.ts';

const MINUTE = 60;
const HOUR = 60 * MINUTE;

/** A guess where nothing else is said: to be set by the first months of a real fleet. */
const GUESS = 'a guess, no source';

/** What all have unless they say otherwise: any of it in five minutes, told in the morning. */
const USUAL = {
  is: 'at-least',
  threshold: 1,
  periodSeconds: 5 * MINUTE,
  periods: 1,
  missing: 'good',
  urgency: 'morning',
  source: GUESS,
} as const;

/**
 * Every alarm of a stage, as data; the stacks make them and docs/runbook.md says what to do about each. Functions and
 * queues that are added to the topology have theirs without being named here.
 */
export function alarmsOf(fleet: FleetSize): readonly AlarmSpec[] {
  const many = (small: number, large: number) => (fleet === 'small' ? small : large);
  return [
    ...QUEUE_NAMES.flatMap((queue) => ofOneQueue(queue, many)),
    ...keysOf(FUNCTIONS).flatMap((name) => ofOneFunction(name, many)),
    ...ofSchedules(),
    ...ofMeters(many),
    ...ofNotices(),
    ...ofTheTable(many),
    ...(['people', 'machines'] as const).flatMap((api) => ofOneApi(api, many)),
  ];
}

type Many = (small: number, large: number) => number;

function ofOneQueue(queue: QueueName, many: Many): AlarmSpec[] {
  const { fifo, visibilitySeconds, maxReceives } = QUEUES[queue];
  const parkedAfter = visibilitySeconds * maxReceives;
  const section = fifo ? 'assess-lag' : 'queue-age';
  return [
    {
      ...USUAL,
      ...{ name: `${section}-${queue}`, section },
      means: fifo
        ? `Units wait in ${queue} to be looked at: alerts come late.`
        : `Messages wait in ${queue} for longer than failing alone explains: it is behind, or stands still.`,
      value: { sum: [ofQueue('ApproximateAgeOfOldestMessage', { queue })] },
      threshold: Math.max(10 * MINUTE, many(2, 6) * parkedAfter),
      periods: 3,
      urgency: 'wake',
      source: `a guess, no source: so many times the ${parkedAfter} s after which a message that always fails is parked`,
    },
    {
      ...USUAL,
      ...{ name: `dead-letters-${queue}`, section: 'dead-letters' },
      means: `A message of ${queue} was tried ${maxReceives} times and parked: what it says is not done.`,
      value: { sum: [ofQueue('ApproximateNumberOfMessagesVisible', { deadLettersOf: queue })] },
      source: 'any is one too many',
    },
  ];
}

function ofOneFunction(name: FunctionName, many: Many): AlarmSpec[] {
  const { source, timeoutSeconds } = FUNCTIONS[name];
  const isScheduled = 'everyMinutes' in source;
  const all: AlarmSpec[] = [
    {
      ...USUAL,
      ...{ name: `function-errors-${name}`, section: 'function-errors' },
      means: `${name} throws, runs out of time or out of memory; single messages that fail do not count here.`,
      value: { sum: [ofFunction(name, 'Errors')] },
      threshold: isScheduled ? 1 : many(5, 50),
      periods: isScheduled ? 1 : 3,
      urgency: isScheduled ? 'morning' : 'wake',
    },
    {
      ...USUAL,
      ...{ name: `function-throttles-${name}`, section: 'function-throttles' },
      means: `${name} is refused a place to run: its own limit or that of the account is too low.`,
      value: { sum: [ofFunction(name, 'Throttles')] },
      threshold: isScheduled ? 1 : many(10, 500),
      periods: isScheduled ? 1 : 3,
    },
    {
      ...USUAL,
      ...{ name: `function-slow-${name}`, section: 'function-slow' },
      means: `${name} has come within a fifth of its ${timeoutSeconds} s: soon it will be cut off.`,
      value: { sum: [ofFunction(name, 'Duration')] },
      threshold: 0.8 * timeoutSeconds * 1000,
      periods: isScheduled ? 1 : 3,
    },
  ];
  if (!isScheduled) return all;
  // A day and a bit in pieces of six hours: one of a whole day would go off when a run is a minute late.
  const isDaily = source.everyMinutes > 60;
  return [
    ...all,
    {
      ...USUAL,
      ...{ name: `schedule-missed-${name}`, section: 'schedule-missed' },
      means: `${name} has not been run when it was due.`,
      value: { sum: [ofFunction(name, 'Invocations')] },
      is: 'below',
      periodSeconds: isDaily ? 6 * HOUR : source.everyMinutes * MINUTE,
      periods: isDaily ? Math.ceil((source.everyMinutes * MINUTE) / (6 * HOUR)) + 1 : 3,
      missing: 'bad',
      urgency: isDaily ? 'morning' : 'wake',
      source: `every ${source.everyMinutes} minutes by the topology`,
    },
  ];
}

function ofSchedules(): AlarmSpec[] {
  return [
    {
      ...USUAL,
      ...{ name: 'runs-failed', section: 'runs-failed' },
      means: 'A run by the clock failed whenever it was tried, and is noted.',
      value: { sum: [ofQueue('ApproximateNumberOfMessagesVisible', { only: 'failed-runs' })] },
      source: 'any is one too many',
    },
  ];
}

function ofMeters(many: Many): AlarmSpec[] {
  return [
    {
      ...USUAL,
      ...{ name: 'nothing-received', section: 'nothing-received' },
      means: 'Not one line has come from any meter or gateway.',
      value: { sum: [counted('ingest', 'events_received')] },
      is: 'below',
      periodSeconds: HOUR,
      // Meters tell once a day; a company of one time zone is quiet in between.
      periods: many(26, 6),
      missing: 'bad',
      urgency: 'wake',
    },
    {
      ...USUAL,
      ...{ name: 'quarantine-share', section: 'quarantine-share' },
      means: 'More than one in twenty lines is set aside: meters, a gateway or the registry are wrong.',
      value: {
        share: [counted('ingest', 'events_quarantined')],
        in: [counted('ingest', 'events_received')],
        ofAtLeast: many(20, 1000),
      },
      threshold: 0.05,
      periodSeconds: HOUR,
    },
    {
      ...USUAL,
      ...{ name: 'meter-rule-failures', section: 'meter-rule-failures' },
      means: 'The broker took messages of meters and could not hand them on.',
      value: { sum: ruleFailures() },
      threshold: many(1, 10),
      urgency: 'wake',
    },
    {
      ...USUAL,
      ...{ name: 'meter-undelivered', section: 'meter-undelivered' },
      means:
        'Messages of meters lie where the broker left what it could not hand on: they are not yet facts.',
      value: { sum: [ofQueue('ApproximateNumberOfMessagesVisible', { only: 'undelivered' })] },
      source: 'any is one too many',
    },
  ];
}

function ofNotices(): AlarmSpec[] {
  return [
    {
      ...USUAL,
      ...{ name: 'notices-failed', section: 'notices-failed' },
      means: 'One in five notices is refused by mail, webhook or SMS: people are not told.',
      value: {
        share: [counted('notify', 'notices_failed')],
        in: [counted('notify', 'notices_failed'), counted('notify', 'notices_sent')],
        ofAtLeast: 5,
      },
      threshold: 0.2,
      periodSeconds: HOUR,
    },
    {
      ...USUAL,
      ...{ name: 'mail-bounces', section: 'mail-bounces' },
      means: 'So much mail comes back that SES may soon stop sending ours.',
      value: { sum: [reputation('Reputation.BounceRate')] },
      threshold: 0.04,
      periodSeconds: HOUR,
      source:
        'below the 5 % at which an account is put under review: Amazon SES, "Reputation metrics messages"',
    },
    {
      ...USUAL,
      ...{ name: 'mail-complaints', section: 'mail-complaints' },
      means: 'So many call our mail unwanted that SES may soon stop sending it.',
      value: { sum: [reputation('Reputation.ComplaintRate')] },
      threshold: 0.0008,
      periodSeconds: HOUR,
      source:
        'below the 0.1 % at which an account is put under review: Amazon SES, "Reputation metrics messages"',
    },
  ];
}

function ofTheTable(many: Many): AlarmSpec[] {
  return [
    {
      ...USUAL,
      ...{ name: 'table-throttles', section: 'table-throttles' },
      means:
        'The table takes reads or writes more slowly than they are asked for: all comes late, nothing is lost.',
      value: { sum: tableThrottles() },
      threshold: many(10, 1000),
      periods: 3,
    },
    {
      ...USUAL,
      ...{ name: 'table-faults', section: 'table-faults' },
      means: 'The table itself fails.',
      value: { sum: tableFaults() },
      threshold: many(5, 50),
      periods: 2,
      urgency: 'wake',
    },
  ];
}

function ofOneApi(api: 'people' | 'machines', many: Many): AlarmSpec[] {
  const whom = api === 'people' ? 'People' : 'Companies’ machines and gateways';
  return [
    {
      ...USUAL,
      ...{ name: `api-faults-${api}`, section: 'api-faults' },
      means: `${whom} are answered 5xx.`,
      value: { sum: [ofApi(api, '5xx', 'Sum')] },
      threshold: many(5, 50),
      periods: 2,
      urgency: 'wake',
    },
    {
      ...USUAL,
      ...{ name: `api-slow-${api}`, section: 'api-slow' },
      means: `${whom} wait for seconds.`,
      value: { sum: [ofApi(api, 'Latency', 'p95')] },
      threshold: 3_000,
      periods: 3,
    },
  ];
}

/** What a month may cost: AWS Budgets User Guide, "Creating a cost budget". */
export const BUDGET: BudgetSpec = {
  name: 'budget',
  section: 'budget',
  means: 'The month costs, or will cost, more than was meant.',
  dollars: { small: 50, large: 5_000 },
  tellAtPercent: { actual: 80, forecast: 100 },
  source: 'a guess, no source: set it by the bill model, bench/scale',
};
