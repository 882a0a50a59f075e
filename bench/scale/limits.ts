/** A published limit, and where it is said. Looked at on 26 November 2026, in stored copies of the pages. */
interface Limit {
  readonly value: number;
  readonly source: string;
}

const LAMBDA_SCALING = 'AWS Lambda Developer Guide, "Lambda scaling behavior"';
const SQS_SCALING =
  'AWS Lambda Developer Guide, "Configuring scaling behavior for SQS event source mappings"';
const DYNAMODB_WARM =
  'Amazon DynamoDB Developer Guide, "Understanding DynamoDB warm throughput in different scenarios"';
const DYNAMODB_QUOTAS = 'Amazon DynamoDB Developer Guide, "Quotas in Amazon DynamoDB", per table';
const SQS_QUOTAS = 'Amazon SQS Developer Guide, "Amazon SQS message quotas"';

/** Service limits of an account in us-east-1 as they are before anybody asks for more; the code has the units. */
export const LIMITS = {
  iot: {
    /** Publishes a second. */
    publishes: {
      value: 20_000,
      source:
        'AWS General Reference, "AWS IoT Core endpoints and quotas", as a public repository quotes it; the page itself was not to be had',
    },
    /** Connects a second. */
    connects: {
      value: 500,
      source:
        'the same page as two public repositories quote it; a third says 3,000 for us-east-1, and the lower is taken',
    },
    connections: { value: 500_000, source: 'the same page, as three public repositories quote it' },
  },
  lambda: {
    concurrency: {
      value: 1_000,
      source: 'AWS Lambda Operator Guide, "Scaling and concurrency in Lambda"',
    },
    /** New environments of one function: so many at once, and so many a second. */
    scalingAtOnce: { value: 1_000, source: LAMBDA_SCALING },
    scalingASecond: { value: 100, source: LAMBDA_SCALING },
    /** MB at which a function has one vCPU. */
    mbAVcpu: {
      value: 1_769,
      source: 'AWS Lambda Developer Guide, "Configure Lambda function memory", from memory, unverified',
    },
  },
  sqs: {
    /** Batches of a queue at the same time. */
    batchesAtFirst: { value: 5, source: SQS_SCALING },
    batchesAMinute: { value: 300, source: SQS_SCALING },
    batchesMost: { value: 1_250, source: SQS_SCALING },
    /** What one may set as the most, `MaximumConcurrency`. */
    maximumConcurrency: { value: 1_000, source: SQS_SCALING },
    /** With event pollers that are paid for. */
    provisionedAMinute: {
      value: 1_000,
      source: 'AWS News Blog, "AWS Lambda enhances event processing with provisioned mode for SQS"',
    },
    provisionedMost: { value: 20_000, source: 'the same post' },
    inFlight: { value: 120_000, source: 'Amazon SQS Developer Guide, "Amazon SQS FIFO queue quotas"' },
    /** Calls a second and action of a FIFO queue with high throughput. */
    fifoCalls: { value: 70_000, source: `${SQS_QUOTAS}, US East (N. Virginia)` },
    /** The same without. */
    fifoCallsPlain: { value: 300, source: SQS_QUOTAS },
  },
  dynamodb: {
    /** Of a new table, units a second. */
    writes: { value: 4_000, source: DYNAMODB_WARM },
    reads: { value: 12_000, source: DYNAMODB_WARM },
    tableWrites: { value: 40_000, source: DYNAMODB_QUOTAS },
    tableReads: { value: 40_000, source: DYNAMODB_QUOTAS },
    partitionWrites: { value: 1_000, source: DYNAMODB_WARM },
    partitionReads: { value: 3_000, source: DYNAMODB_WARM },
    /** How long the double of a peak may take to be had, seconds. */
    doubling: {
      value: 1_800,
      source: 'Amazon DynamoDB Developer Guide, "Understanding DynamoDB warm throughput"',
    },
  },
  ses: {
    /** Mails a second of an account that has just left the sandbox. */
    mails: {
      value: 14,
      source:
        "a mail product's guide to Amazon SES quotas (acellemail.com); SES says that it differs by account",
    },
  },
} as const satisfies Record<string, Record<string, Limit>>;

/** What the models assume of the cloud beside its limits. */
export const ASSUMED = {
  /** A call to the table, milliseconds: "single-digit millisecond" (AWS Database Blog, "Understanding Amazon DynamoDB latency"). */
  tableMs: 6,
  /** A call to a queue, milliseconds. A guess, no source. */
  sendMs: 10,
  /** Handing a mail over, milliseconds. A guess, no source. */
  mailMs: 80,
  /** A vCPU of Lambda on arm64 beside a core of the machine that was measured on. A guess, no source. */
  vcpuSpeed: 1,
  /** What an environment takes before its first invocation, seconds. A guess, no source: the cold start bench has the real one. */
  coldSeconds: 0.6,
  /** Waits of the SDK after it was throttled, on average, seconds: half of 1 and 2 s (`@smithy/core`, `retries-2026-config.js`). */
  sdkRetrySeconds: [0.5, 1],
  /** Changes of alerts a unit-day: some 10 a day among 2,000 units (README, "How well it tells"). */
  transitionsAUnitDay: 0.005,
} as const;
