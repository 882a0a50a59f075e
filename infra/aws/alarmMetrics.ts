import type { Counter } from '../../functions/ports.ts';
import type { FunctionName, QueueName } from '../topology.ts';
import type { MetricSpec, NamedPart } from './alarmSpec.ts';
import { METRICS_NAMESPACE } from './environment.ts';

/** A count of ours over all of its labels; the handlers name themselves to `Metrics` as in the topology. */
export function counted(by: FunctionName, counter: Counter): MetricSpec {
  return {
    ...{ namespace: METRICS_NAMESPACE, metric: counter, statistic: 'Sum' },
    dimensions: { service: by },
    source: 'functions/cloudMeter.ts',
  };
}

/** Amazon SQS Developer Guide. */
export function ofQueue(
  metric: string,
  of: { queue: QueueName } | { deadLettersOf: QueueName } | { only: 'undelivered' | 'failed-runs' },
): MetricSpec {
  return {
    ...{ namespace: 'AWS/SQS', metric, statistic: 'Maximum', dimensions: { QueueName: of } },
    source: 'Amazon SQS Developer Guide, "Available CloudWatch metrics for Amazon SQS"',
  };
}

/** AWS Lambda Developer Guide. */
export function ofFunction(
  name: FunctionName,
  metric: 'Errors' | 'Throttles' | 'Invocations' | 'Duration',
): MetricSpec {
  return {
    ...{ namespace: 'AWS/Lambda', metric, statistic: metric === 'Duration' ? 'Maximum' : 'Sum' },
    dimensions: { FunctionName: { function: name } },
    source: 'AWS Lambda Developer Guide, "Types of metrics for Lambda functions"',
  };
}

/** Amazon API Gateway Developer Guide; of an HTTP API, whose names differ from those of a REST API. */
export function ofApi(
  api: 'people' | 'machines',
  metric: '5xx' | 'Latency',
  statistic: 'Sum' | 'p95',
): MetricSpec {
  return {
    ...{ namespace: 'AWS/ApiGateway', metric, statistic, dimensions: { ApiId: { api } } },
    source: 'Amazon API Gateway Developer Guide, "Monitor CloudWatch metrics for HTTP APIs in API Gateway"',
  };
}

const TABLE: NamedPart = { only: 'table' };
const DYNAMODB = 'Amazon DynamoDB Developer Guide, "DynamoDB Metrics and dimensions"';

/** Throttled reads and writes, of the table and of its index: neither counts those of the other. */
export function tableThrottles(): MetricSpec[] {
  return ['ReadThrottleEvents', 'WriteThrottleEvents'].flatMap((metric) =>
    [
      { TableName: TABLE },
      { TableName: TABLE, GlobalSecondaryIndexName: { only: 'list-index' } as const },
    ].map(
      (dimensions): MetricSpec => ({
        ...{ namespace: 'AWS/DynamoDB', metric, statistic: 'Sum', dimensions },
        source: DYNAMODB,
      }),
    ),
  );
}

/** The operations that lib/store and functions/sentNotices.ts use: this metric is told by operation only. */
const OPERATIONS = ['GetItem', 'Query', 'PutItem', 'UpdateItem', 'DeleteItem', 'BatchWriteItem'];

/** Faults of DynamoDB's own. */
export function tableFaults(): MetricSpec[] {
  return OPERATIONS.map((Operation) => ({
    ...{ namespace: 'AWS/DynamoDB', metric: 'SystemErrors', statistic: 'Sum' },
    dimensions: { TableName: TABLE, Operation },
    source: DYNAMODB,
  }));
}

const RULE: NamedPart = { only: 'meter-rule' };

/** What the rule that takes meters' messages in could not do with them. */
export function ruleFailures(): MetricSpec[] {
  const metrics = [
    // The guide lists both dimensions for it; that the action is called `SQS` there is from memory, unverified.
    { metric: 'Failure', dimensions: { RuleName: RULE, ActionType: 'SQS' } },
    { metric: 'ParseError', dimensions: { RuleName: RULE } },
    { metric: 'RuleMessageThrottled', dimensions: { RuleName: RULE } },
  ];
  return metrics.map((each) => ({
    ...{ ...each, namespace: 'AWS/IoT', statistic: 'Sum' },
    source: 'AWS IoT Core Developer Guide, "AWS IoT metrics and dimensions"',
  }));
}

/** How mail of the whole account fares; these have no dimension. */
export function reputation(metric: 'Reputation.BounceRate' | 'Reputation.ComplaintRate'): MetricSpec {
  return {
    ...{ namespace: 'AWS/SES', metric, statistic: 'Average', dimensions: {} },
    source: 'Amazon SES Developer Guide, "Creating reputation monitoring alarms using CloudWatch"',
  };
}
