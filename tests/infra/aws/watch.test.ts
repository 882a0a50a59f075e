import { describe, expect, it } from 'vitest';
import * as z from 'zod';
import type { AlarmSpec, MetricSpec } from '../../../infra/aws/alarmSpec.ts';
import { alarmsOf, BUDGET } from '../../../infra/aws/alarms.ts';
import { synthAll } from './synthed.ts';

const metricSchema = z.object({
  Namespace: z.string(),
  MetricName: z.string(),
  Dimensions: z.array(z.object({ Name: z.string(), Value: z.unknown() })).default([]),
});
const alarmSchema = z.object({
  ...{
    AlarmName: z.string(),
    AlarmDescription: z.string(),
    Threshold: z.number(),
    EvaluationPeriods: z.number(),
  },
  ...{ ComparisonOperator: z.string(), TreatMissingData: z.string(), Period: z.number().optional() },
  ...{ Namespace: z.string().optional(), AlarmActions: z.tuple([z.unknown()]) },
  Metrics: z
    .array(
      z.object({
        Expression: z.string().optional(),
        MetricStat: z.object({ Metric: metricSchema, Period: z.number(), Stat: z.string() }).optional(),
      }),
    )
    .optional(),
});

describe.each(synthAll())('%s: what is watched', (name, { templates, stage, topology }) => {
  const isAsked = name.endsWith('everything');
  const alarms = templates
    .ofType('AWS::CloudWatch::Alarm')
    .map(({ stack, Properties }) => ({ stack, ...alarmSchema.parse(Properties), all: Properties }));
  const wanted = alarmsOf(stage).filter(
    (alarm) => templates.stacks.includes('Meters') || !JSON.stringify(alarm).includes('meter-rule'),
  );

  it('has an alarm for each of the catalogue', () => {
    expect(alarms.map(({ AlarmName }) => AlarmName)).toEqual(
      wanted.map((alarm) => `brinebell-${stage}-${alarm.name}`),
    );
  });

  it.each(wanted.map((alarm) => [alarm.name, alarm] as const))(
    'raises %s as the catalogue says',
    (_, spec) => {
      const alarm = alarms.find(({ AlarmName }) => AlarmName === `brinebell-${stage}-${spec.name}`);
      if (!alarm) throw new Error('missing');
      expect(alarm).toMatchObject({
        Threshold: spec.threshold,
        EvaluationPeriods: spec.periods,
        ComparisonOperator: spec.is === 'below' ? 'LessThanThreshold' : 'GreaterThanOrEqualToThreshold',
        TreatMissingData: spec.missing === 'bad' ? 'breaching' : 'notBreaching',
      });
      expect(alarm.AlarmDescription).toContain(`docs/runbook.md, ${spec.section}`);
      expect(templates.told(alarm.stack, alarm.AlarmActions[0])).toBe(
        spec.urgency === 'wake' ? '<Watch/Wake>' : '<Watch/Morning>',
      );
      const metrics = alarm.Metrics?.flatMap(({ MetricStat }) => MetricStat ?? []) ?? [
        {
          Metric: metricSchema.parse(alarm.all),
          Period: alarm.Period,
          Stat: alarm.all.Statistic ?? alarm.all.ExtendedStatistic,
        },
      ];
      expect(metrics.map(({ Metric }) => Metric.MetricName)).toEqual(
        metricsOf(spec).map(({ metric }) => metric),
      );
      expect(new Set(metrics.map(({ Period }) => Period))).toEqual(new Set([spec.periodSeconds]));
      for (const { Metric } of metrics) {
        for (const { Value } of Metric.Dimensions)
          expect(templates.told(alarm.stack, Value)).not.toContain('undefined');
      }
    },
  );

  it('looks at the parts of this deployment', () => {
    const dimension = (alarmName: string) => {
      const alarm = alarms.find(({ AlarmName }) => AlarmName === `brinebell-${stage}-${alarmName}`);
      if (!alarm) throw new Error(alarmName);
      const [one] = metricSchema.parse(alarm.all).Dimensions;
      return one && templates.told(alarm.stack, one.Value);
    };
    expect(dimension('dead-letters-ingest')).toBe('<Queues/IngestDead.QueueName>');
    expect(dimension('assess-lag-assess')).toBe('<Queues/Assess.QueueName>');
    expect(dimension('function-errors-sweep')).toBe('<Functions/Sweep/Function>');
    expect(dimension('api-faults-machines')).toBe('<Front/Machines/Api>');
  });

  it('tells the operator by mail where one was named, and of the budget too', () => {
    const mails = templates.ofType('AWS::SNS::Subscription').map(({ Properties }) => Properties.Endpoint);
    expect(mails).toEqual(isAsked ? ['operator@example.com', 'operator@example.com'] : []);
    const { Properties } = templates.only('AWS::Budgets::Budget');
    const dollars = isAsked ? 70 : BUDGET.dollars[stage];
    expect(Properties.Budget).toMatchObject({
      BudgetLimit: { Amount: dollars, Unit: 'USD' },
      TimeUnit: 'MONTHLY',
    });
    expect(JSON.stringify(Properties.NotificationsWithSubscribers)).toMatch(/"FORECASTED".*"Threshold":100/);
  });

  it('shows queues, dead letters, lag, what is set aside, errors, throttles and cost on one page', () => {
    const { stack, Properties } = templates.only('AWS::CloudWatch::Dashboard');
    const body = templates.told(stack, Properties.DashboardBody);
    for (const metric of [
      ...['ApproximateAgeOfOldestMessage', 'ApproximateNumberOfMessagesVisible', 'events_quarantined'],
      ...['Errors', 'Throttles', 'EstimatedCharges', 'ConsumedWriteCapacityUnits'],
    ])
      expect(body).toContain(`"${metric}"`);
    for (const part of [...Object.keys(topology.queues), ...Object.keys(topology.functions)])
      expect(body).toContain(`"label":"${part}"`);
    expect(() => JSON.parse(body)).not.toThrow();
  });
});

function metricsOf({ value }: AlarmSpec): readonly MetricSpec[] {
  return 'sum' in value ? value.sum : [...value.share, ...value.in];
}
