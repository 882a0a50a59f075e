import { expect, it } from 'vitest';
import type { AlarmSpec } from '../../../infra/aws/alarmSpec.ts';
import { alarmsOf } from '../../../infra/aws/alarms.ts';
import { FUNCTIONS, QUEUES } from '../../../infra/topology.ts';

const SIZES = ['small', 'large'] as const;
const all = SIZES.flatMap((size) => alarmsOf(size).map((alarm) => ({ ...alarm, size })));

function metricsOf({ value }: AlarmSpec) {
  return 'sum' in value ? value.sum : [...value.share, ...value.in];
}

it('calls every alarm by a name of its own, which begins with its section', () => {
  for (const size of SIZES) {
    const names = alarmsOf(size).map(({ name }) => name);
    expect(new Set(names).size).toBe(names.length);
  }
  expect(all.filter(({ name, section }) => !name.startsWith(section))).toEqual([]);
  // What lands in a shell, a mail and an address unescaped.
  expect(all.filter(({ name }) => !/^[a-z]+(-[a-zA-Z0-9]+)*$/.test(name))).toEqual([]);
});

it('watches every queue and every function of the topology', () => {
  const names = new Set(alarmsOf('small').map(({ name }) => name));
  for (const [queue, { fifo }] of Object.entries(QUEUES)) {
    expect(names).toContain(`${fifo ? 'assess-lag' : 'queue-age'}-${queue}`);
    expect(names).toContain(`dead-letters-${queue}`);
  }
  for (const [name, { source }] of Object.entries(FUNCTIONS)) {
    expect(names).toContain(`function-errors-${name}`);
    expect(names.has(`schedule-missed-${name}`)).toBe('everyMinutes' in source);
  }
});

/** What always fails is left out of the metric after its third receive, but where order is kept: Amazon SQS Developer Guide, "Available CloudWatch metrics for Amazon SQS". */
it('waits longer for a queue than a message is counted that always fails', () => {
  for (const [queue, { fifo, visibilitySeconds, maxReceives }] of Object.entries(QUEUES)) {
    const alarm = all.find(({ name }) => name === `${fifo ? 'assess-lag' : 'queue-age'}-${queue}`);
    expect(alarm?.threshold).toBeGreaterThan(visibilitySeconds * (fifo ? maxReceives : 3));
  }
});

it('looks back far enough for one run of whatever runs by the clock, and no further than a run and a half', () => {
  for (const [name, { source }] of Object.entries(FUNCTIONS)) {
    if (!('everyMinutes' in source)) continue;
    const alarm = all.find((each) => each.name === `schedule-missed-${name}`);
    const window = (alarm?.periods ?? 0) * (alarm?.periodSeconds ?? 0);
    expect(window).toBeGreaterThan(source.everyMinutes * 60);
    if (source.everyMinutes > 60) expect(window).toBeLessThanOrEqual(1.5 * source.everyMinutes * 60);
    expect(alarm?.missing).toBe('bad');
  }
});

it('stays within what CloudWatch takes', () => {
  for (const alarm of all) {
    const { name, periodSeconds, periods, threshold } = alarm;
    const metrics = metricsOf(alarm);
    // PutMetricAlarm: a period is a multiple of 60 s; all periods of a day at the most, of a week where one is an hour.
    expect([name, periodSeconds % 60]).toEqual([name, 0]);
    expect([name, periodSeconds * periods <= (periodSeconds < 3600 ? 86_400 : 604_800)]).toEqual([
      name,
      true,
    ]);
    // CloudWatch User Guide, "Using math expressions with CloudWatch metrics": ten metrics an alarm.
    expect([name, metrics.length >= 1 && metrics.length <= 10]).toEqual([name, true]);
    expect([name, threshold > 0]).toEqual([name, true]);
    const isShare = 'share' in alarm.value;
    if (isShare) expect([name, threshold < 1]).toEqual([name, true]);
  }
});

it('tells of each metric where its name is from, and of each threshold', () => {
  for (const alarm of all) {
    expect(alarm.source).not.toBe('');
    for (const { source } of metricsOf(alarm)) expect(source).not.toBe('');
  }
});
