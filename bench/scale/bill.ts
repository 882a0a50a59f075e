import { keysOf } from '../../shared/records.ts';
import { PRICES, type PriceName } from './prices.ts';
import type { Usage } from './usage.ts';

/** Services by what is paid for, in the order of the table. */
export const SERVICES = {
  'IoT Core': ['iotMinutes', 'iotMessages', 'iotMessagesNext', 'iotMessagesLast', 'iotRules', 'iotActions'],
  SQS: ['sqsStandard', 'sqsFifo'],
  Lambda: ['lambdaRequests', 'lambdaSeconds', 'lambdaSecondsNext'],
  DynamoDB: ['dynamodbWrites', 'dynamodbReads', 'dynamodbStorage', 'dynamodbRestore'],
  S3: ['s3Storage', 's3Puts', 's3Gets'],
  Athena: ['athena'],
  CloudWatch: ['logsIngest', 'logsStorage', 'metrics', 'alarms', 'dashboards'],
  'API Gateway': ['httpApi'],
  CloudFront: ['cloudfrontRequests', 'cloudfrontOut'],
  Cognito: ['cognito'],
  SES: ['ses'],
  SNS: ['sms'],
  KMS: ['kmsKeys', 'kmsRequests'],
  'Secrets Manager': ['secrets', 'secretReads'],
  'X-Ray': ['traces'],
  'Step Functions': ['steps'],
} as const satisfies Record<string, readonly PriceName[]>;

export type Service = keyof typeof SERVICES;

/** A month's bill, US dollars. */
export interface Bill {
  readonly lines: Readonly<Record<PriceName, number>>;
  readonly services: Readonly<Record<Service, number>>;
  readonly total: number;
}

/** What a month's use comes to. */
export function billOf(usage: Usage): Bill {
  const lines = mapped(PRICES, (name, { usd, per }) => (usage[name] / per) * usd);
  const services = mapped(SERVICES, (_, names: readonly PriceName[]) =>
    names.reduce((sum, name) => sum + lines[name], 0),
  );
  return { lines, services, total: Object.values(services).reduce((sum, each) => sum + each, 0) };
}

function mapped<Key extends string, Value>(
  from: Readonly<Record<Key, Value>>,
  to: (key: Key, value: Value) => number,
): Record<Key, number> {
  const keys = keysOf(from);
  return Object.fromEntries(keys.map((key) => [key, to(key, from[key])])) as Record<Key, number>;
}
