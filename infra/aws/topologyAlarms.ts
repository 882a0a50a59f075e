import { FUNCTIONS, type FunctionName, QUEUES, type QueueName, type QueueSpec } from '../topology.ts';
import { ofFunction, ofQueue } from './alarmMetrics.ts';
import type { AlarmSpec } from './alarmSpec.ts';
import { HOUR, type Many, MINUTE, USUAL } from './usualAlarm.ts';

/** Those that each queue has. */
export function ofOneQueue(queue: QueueName, many: Many): AlarmSpec[] {
  const { fifo, visibilitySeconds, maxReceives }: QueueSpec = QUEUES[queue];
  const section = fifo ? 'assess-lag' : 'queue-age';
  return [
    {
      ...USUAL,
      ...{ name: `${section}-${queue}`, section },
      means: fifo
        ? `Units wait in ${queue} to be looked at: alerts come late.`
        : `Messages wait in ${queue} for longer than failing alone explains: it is behind, or stands still.`,
      value: { sum: [ofQueue('ApproximateAgeOfOldestMessage', { queue })] },
      threshold: visibilitySeconds * (fifo ? maxReceives : 3) + many(15, 30) * MINUTE,
      periods: 3,
      urgency: 'wake',
      source:
        'a guess, no source. What always fails is not counted after its third receive, but where order is kept: there it counts until it is parked (Amazon SQS Developer Guide, "Available CloudWatch metrics for Amazon SQS")',
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

/** Those that each function has, and each schedule. */
export function ofOneFunction(name: FunctionName, many: Many): AlarmSpec[] {
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

/** Of all schedules together. */
export function ofSchedules(): AlarmSpec[] {
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
