/** A price of a service, and where it is said. */
export interface Price {
  /** US dollars. */
  readonly usd: number;
  /** For how many of what. */
  readonly per: number;
  readonly of: string;
  readonly source: string;
}

/** When the sources were looked at, in stored copies. Prices are of us-east-1, without free tiers, discounts and taxes. */
export const SEEN_ON = '2026-11-26';

const MEMORY = 'from memory, unverified';
/** us-east-1 has the same prices for these: from memory, unverified. */
const OREGON =
  'AWS Price List of us-west-2 as of 9 August 2026, quoted in a public cost document ("Cost model and measured AWS spend")';
const IOT =
  'AWS IoT Core pricing page (aws.amazon.com/iot-core/pricing), worked example, as transcribed on 20 September 2026';
const LAMBDA_TIERS = 'AWS Compute Blog, "Introducing tiered pricing for AWS Lambda"';
const MILLION = 1_000_000;
const GB_MONTH = 'GB and month';

function price(usd: number, per: number, of: string, source: string): Price {
  return { usd, per, of, source };
}

/** Every price that the bill is made of. */
export const PRICES = {
  iotMinutes: price(0.08, MILLION, 'minutes of connection', IOT),
  /** Of 5 KB; a CONNECT counts as one (the page "additional metering details"). */
  iotMessages: price(1, MILLION, 'messages, the first thousand million a month', IOT),
  iotMessagesNext: price(0.8, MILLION, 'messages, the next four thousand million', MEMORY),
  iotMessagesLast: price(0.7, MILLION, 'messages beyond', MEMORY),
  iotRules: price(0.15, MILLION, 'rules triggered, 5 KB each', MEMORY),
  iotActions: price(0.15, MILLION, 'actions, 5 KB each', MEMORY),
  sqsStandard: price(0.4, MILLION, 'requests of 64 KB', OREGON),
  sqsFifo: price(0.5, MILLION, 'requests of 64 KB', MEMORY),
  lambdaRequests: price(0.2, MILLION, 'requests', OREGON),
  lambdaSeconds: price(0.0000133334, 1, 'GB-seconds on arm64, the first 7.5 thousand million', OREGON),
  lambdaSecondsNext: price(
    0.9 * 0.0000133334,
    1,
    'GB-seconds on arm64, to 18.75 thousand million',
    LAMBDA_TIERS,
  ),
  dynamodbWrites: price(0.625, MILLION, 'write request units', OREGON),
  dynamodbReads: price(0.125, MILLION, 'read request units', OREGON),
  dynamodbStorage: price(0.25, 1, GB_MONTH, OREGON),
  /** 0.8 of the price of storage in the price list of eu-central-1 of 11 September 2026, too. */
  dynamodbRestore: price(0.2, 1, GB_MONTH, MEMORY),
  s3Storage: price(0.023, 1, GB_MONTH, OREGON),
  s3Puts: price(0.005, 1_000, 'PUT, COPY, POST and LIST requests', OREGON),
  s3Gets: price(0.004, 10_000, 'GET and other requests', OREGON),
  athena: price(5, 1, 'TB read', MEMORY),
  logsIngest: price(0.5, 1, 'GB taken in', OREGON),
  logsStorage: price(0.03, 1, GB_MONTH, OREGON),
  metrics: price(0.3, 1, 'metric and month, the first 10,000', OREGON),
  alarms: price(0.1, 1, 'alarm and month', OREGON),
  dashboards: price(3, 1, 'dashboard and month', MEMORY),
  httpApi: price(1, MILLION, 'requests, the first 300 million', OREGON),
  cloudfrontRequests: price(0.01, 10_000, 'HTTPS requests', MEMORY),
  cloudfrontOut: price(0.085, 1, 'GB to readers', MEMORY),
  cognito: price(0.015, 1, 'person who signs in in a month, Essentials', MEMORY),
  ses: price(0.1, 1_000, 'mails', "a mail product's guide to Amazon SES (acellemail.com)"),
  sms: price(0.0083, 1, 'text message to a US number, fees of carriers with it', MEMORY),
  kmsKeys: price(1, 1, 'key version and month', OREGON),
  kmsRequests: price(0.03, 10_000, 'requests', OREGON),
  secrets: price(0.4, 1, 'secret and month', OREGON),
  secretReads: price(0.05, 10_000, 'calls', OREGON),
  traces: price(5, MILLION, 'traces recorded', MEMORY),
  steps: price(0.025, 1_000, 'state transitions', MEMORY),
} as const satisfies Record<string, Price>;

export type PriceName = keyof typeof PRICES;
