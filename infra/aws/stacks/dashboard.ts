import { Duration, type Stack } from 'aws-cdk-lib';
import { Dashboard, GraphWidget, type IMetric, MathExpression, Metric } from 'aws-cdk-lib/aws-cloudwatch';
import type { IQueue } from 'aws-cdk-lib/aws-sqs';
import { METRICS_NAMESPACE } from '../environment.ts';
import type { Stage } from '../stages.ts';
import type { Watched } from './watched.ts';

const PERIOD = Duration.minutes(5);
/** A row is 24 wide: CloudWatch User Guide, dashboard body structure. */
const WIDTH = 8;

/** One page on which the operator sees whether all is well, from what comes in to what it costs. */
export function addDashboard(stack: Stack, { name }: Stage, watched: Watched): void {
  const graph = (title: string, left: IMetric[]) => new GraphWidget({ title, left, width: WIDTH });
  new Dashboard(stack, 'Dashboard', {
    dashboardName: `brinebell-${name}`,
    widgets: [
      [
        graph('Age of the oldest message, s', ages(watched, false)),
        graph('How far looking at units lags, s', ages(watched, true)),
        graph('Dead letters', deadLetters(watched)),
      ],
      [
        graph('Lines set aside, %', [quarantineRate()]),
        graph('Errors of functions', byFunction(watched, 'Errors')),
        graph('Throttles of functions', byFunction(watched, 'Throttles')),
      ],
      [
        graph('Answers 5xx', byApi(watched, '5xx')),
        graph('Capacity units of the table', capacity(watched)),
        // It lives in one region only, and where billing alerts are switched on.
        new GraphWidget({
          title: 'Cost of the month so far, USD',
          left: [cost()],
          width: WIDTH,
          region: COST_REGION,
        }),
      ],
    ],
  });
}

/** CloudWatch User Guide, "Create a billing alarm to monitor your estimated AWS charges". */
const COST_REGION = 'us-east-1';

function cost(): Metric {
  return new Metric({
    ...{ namespace: 'AWS/Billing', metricName: 'EstimatedCharges', statistic: 'Maximum' },
    ...{ dimensionsMap: { Currency: 'USD' }, period: Duration.hours(6), region: COST_REGION },
  });
}

function ages({ queues }: Watched, isFifo: boolean): Metric[] {
  return Object.entries(queues)
    .filter(([, { queue }]) => queue.fifo === isFifo)
    .map(([label, { queue }]) =>
      queue.metricApproximateAgeOfOldestMessage({ label, period: PERIOD, statistic: 'Maximum' }),
    );
}

function deadLetters({ queues, failedRuns }: Watched): Metric[] {
  const all: (readonly [string, IQueue])[] = [
    ...Object.entries(queues).map(([label, { dead }]) => [label, dead] as const),
    ['runs by the clock', failedRuns],
  ];
  return all.map(([label, dead]) =>
    dead.metricApproximateNumberOfMessagesVisible({ label, period: PERIOD, statistic: 'Maximum' }),
  );
}

function quarantineRate(): MathExpression {
  const counted = (metricName: string) =>
    new Metric({
      ...{ namespace: METRICS_NAMESPACE, metricName, statistic: 'Sum', period: Duration.hours(1) },
      dimensionsMap: { service: 'ingest' },
    });
  return new MathExpression({
    expression: '100 * FILL(aside, 0) / received',
    usingMetrics: { aside: counted('events_quarantined'), received: counted('events_received') },
    label: 'set aside',
    period: Duration.hours(1),
  });
}

function byFunction({ functions }: Watched, metricName: 'Errors' | 'Throttles'): Metric[] {
  return Object.entries(functions).map(([label, { functionName: FunctionName }]) => {
    const dimensionsMap = { FunctionName };
    return new Metric({
      ...{ namespace: 'AWS/Lambda', metricName, statistic: 'Sum', dimensionsMap, label, period: PERIOD },
    });
  });
}

function byApi({ apis }: Watched, metricName: string): Metric[] {
  return Object.entries(apis).map(
    ([label, ApiId]) =>
      new Metric({
        ...{ namespace: 'AWS/ApiGateway', metricName, statistic: 'Sum', period: PERIOD, label },
        dimensionsMap: { ApiId },
      }),
  );
}

function capacity({ tableName: TableName }: Watched): Metric[] {
  return ['ConsumedReadCapacityUnits', 'ConsumedWriteCapacityUnits'].map(
    (metricName) =>
      new Metric({
        ...{ namespace: 'AWS/DynamoDB', metricName, statistic: 'Sum', period: PERIOD },
        dimensionsMap: { TableName },
      }),
  );
}
