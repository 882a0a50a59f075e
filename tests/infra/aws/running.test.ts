import { Runtime, RuntimeFamily } from 'aws-cdk-lib/aws-lambda';
import { describe, expect, it } from 'vitest';
import * as z from 'zod';
import { STAGES } from '../../../infra/aws/stages.ts';
import { synthAll } from './synthed.ts';

/**
 * AWS Lambda Developer Guide, "Creating and configuring an Amazon SQS event source mapping": the visibility timeout is to be
 * at least six times the function's timeout. With a batching window that comes on top (AWS's advice as told in
 * https://linuxbeast.com/blog/how-to-fix-sqs-visibility-timeout-in-aws-lambda).
 */
const TIMES = 6;

describe.each(synthAll())('%s: what runs', (_, { templates, topology, stage }) => {
  const queueOf = (name: string) => templates.only('AWS::SQS::Queue', `Queues/${capital(name)}`);
  const functionOf = (name: string, { source }: { source: object }) =>
    templates.only(
      'AWS::Lambda::Function',
      'signIn' in source ? `Identity/${name}/Function` : `Functions/${capital(name)}/Function`,
    );

  it.each(Object.entries(topology.queues))('makes the queue %s as the topology says', (name, spec) => {
    const { stack, Properties } = queueOf(name);
    expect(Properties).toMatchObject({
      VisibilityTimeout: spec.visibilitySeconds,
      SqsManagedSseEnabled: true,
      RedrivePolicy: { maxReceiveCount: spec.maxReceives },
      ...(spec.fifo && {
        FifoQueue: true,
        DeduplicationScope: 'messageGroup',
        FifoThroughputLimit: 'perMessageGroupId',
        ContentBasedDeduplication: false,
      }),
    });
    const { deadLetterTargetArn } = z
      .object({ deadLetterTargetArn: z.unknown() })
      .parse(Properties.RedrivePolicy);
    const dead = `Queues/${capital(name)}Dead`;
    expect(templates.told(stack, deadLetterTargetArn)).toBe(`<${dead}.Arn>`);
    const { Properties: deadProperties } = templates.only('AWS::SQS::Queue', dead);
    expect(deadProperties.FifoQueue).toBe(Properties.FifoQueue);
    expect(deadProperties.SqsManagedSseEnabled).toBe(true);
    // A message keeps its age when it is parked: SQS Developer Guide, "Using dead-letter queues".
    expect(Number(deadProperties.MessageRetentionPeriod)).toBeGreaterThan(
      Number(Properties.MessageRetentionPeriod),
    );
  });

  it.each(Object.entries(topology.functions))('runs %s as the topology says', (name, spec) => {
    const { Properties } = functionOf(name, spec);
    expect(Properties).toMatchObject({
      Runtime: 'nodejs24.x',
      Architectures: ['arm64'],
      Handler: 'index.handler',
      Timeout: spec.timeoutSeconds,
      MemorySize: STAGES[stage].memoryMb,
      TracingConfig: { Mode: 'Active' },
    });
    expect(Properties.ReservedConcurrentExecutions).toBe(STAGES[stage].reserved[name]);
  });

  it('feeds each function its queue in batches that may fail in part', () => {
    const mappings = templates.ofType('AWS::Lambda::EventSourceMapping');
    const fed = Object.entries(topology.functions).filter(([, { source }]) => 'queue' in source);
    expect(mappings.length).toBe(fed.length);
    for (const [name, { source, timeoutSeconds }] of fed) {
      if (!('queue' in source)) continue;
      const from = source.queue;
      const spec = topology.queues[from];
      const found = mappings.find(
        ({ stack, Properties }) =>
          templates.told(stack, Properties.FunctionName) === `<Functions/${capital(name)}/Function>`,
      );
      if (!found) throw new Error(`${name} is fed nothing`);
      expect(templates.told(found.stack, found.Properties.EventSourceArn)).toBe(
        `<Queues/${capital(from)}.Arn>`,
      );
      expect(found.Properties).toMatchObject({
        BatchSize: spec.batchSize,
        FunctionResponseTypes: ['ReportBatchItemFailures'],
        ScalingConfig: {
          MaximumConcurrency: Math.min(STAGES[stage].batchesAtOnce, spec.batchesAtOnce ?? 1000),
        },
      });
      expect(found.Properties.MaximumBatchingWindowInSeconds).toBe(spec.windowSeconds);
      const { windowSeconds = 0, visibilitySeconds } = spec;
      expect([name, visibilitySeconds >= TIMES * timeoutSeconds + windowSeconds]).toEqual([name, true]);
      // AWS Lambda API reference, BatchSize: over 10 there must be a window, and a FIFO queue has neither.
      expect([name, spec.batchSize <= 10 || (windowSeconds >= 1 && !spec.fifo)]).toEqual([name, true]);
    }
  });

  it('runs by the clock what the topology says, and notes runs that failed', () => {
    const scheduled = Object.entries(topology.functions).flatMap(([name, { source }]) =>
      'everyMinutes' in source ? [{ name, every: source.everyMinutes }] : [],
    );
    const schedules = templates.ofType('AWS::Scheduler::Schedule').map(({ stack, Properties }) => {
      const target = z
        .object({ Arn: z.unknown(), DeadLetterConfig: z.object({ Arn: z.unknown() }) })
        .parse(Properties.Target);
      return {
        target: templates.told(stack, target.Arn),
        dead: templates.told(stack, target.DeadLetterConfig.Arn),
        expression: Properties.ScheduleExpression,
      };
    });
    expect(schedules).toEqual(
      scheduled.map(({ name, every }) => ({
        target: `<Functions/${capital(name)}/Function.Arn>`,
        dead: '<Queues/FailedRuns.Arn>',
        expression: every === 1440 ? 'rate(1 day)' : `rate(${every} minutes)`,
      })),
    );
    expect(templates.ofType('AWS::Lambda::EventInvokeConfig').length).toBe(scheduled.length);
  });
});

it('runs on the newest Node.js that the toolkit knows', () => {
  const versions = Runtime.ALL.filter(({ family }) => family === RuntimeFamily.NODEJS).flatMap(({ name }) =>
    [...name.matchAll(/^nodejs(\d+)\.x$/g)].map(([, version]) => Number(version)),
  );
  expect(Math.max(...versions)).toBe(24);
});

function capital(name: string): string {
  return `${name.charAt(0).toUpperCase()}${name.slice(1)}`;
}
