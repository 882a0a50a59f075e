import { createHash, randomUUID } from 'node:crypto';
import type { PreTokenGenerationV2TriggerEvent, SQSEvent } from 'aws-lambda';

/**
 * Events as AWS sends them. Each is a published example, whole, with only those values put into it that a test is about:
 * a member that AWS sends and we do not expect is there, and one that it does not send is not.
 * What the topic rule of AWS IoT sends to the queue `ingest` is made of its SQL, and stands with the rule.
 */

/** "Example Amazon SQS message event": AWS Lambda developer guide, "Using AWS Lambda with Amazon SQS" (awsdocs/aws-lambda-developer-guide, doc_source/with-sqs.md). */
const STANDARD = {
  messageId: '059f36b4-87a3-44ab-83d2-661975830a7d',
  receiptHandle: 'AQEBwJnKyrHigUMZj6rYigCgxlaS3SLy0a...',
  body: 'test',
  attributes: {
    ApproximateReceiveCount: '1',
    SentTimestamp: '1545082649183',
    SenderId: 'AIDAIENQZJOLO23YVJ4VO',
    ApproximateFirstReceiveTimestamp: '1545082649185',
  },
  messageAttributes: {},
  md5OfBody: '098f6bcd4621d373cade4e832627b4f6',
  eventSource: 'aws:sqs',
  eventSourceARN: 'arn:aws:sqs:us-east-2:123456789012:my-queue',
  awsRegion: 'us-east-2',
} as const;

/** The same page, "FIFO queue"; word for word also in the Amazon EventBridge user guide, "Amazon SQS as a source". */
const FIFO = {
  messageId: '11d6ee51-4cc7-4302-9e22-7cd8afdaadf5',
  receiptHandle: 'AQEBBX8nesZEXmkhsmZeyIE8iQAMig7qw...',
  body: 'Test message.',
  attributes: {
    ApproximateReceiveCount: '1',
    SentTimestamp: '1573251510774',
    SequenceNumber: '18849496460467696128',
    MessageGroupId: '1',
    SenderId: 'AIDAIO23YVJENQZJOL4VO',
    MessageDeduplicationId: '1',
    ApproximateFirstReceiveTimestamp: '1573251510774',
  },
  messageAttributes: {},
  md5OfBody: 'e4e68fb7bd0e697a0ae8f1bb342846b3',
  eventSource: 'aws:sqs',
  eventSourceARN: 'arn:aws:sqs:us-east-2:123456789012:fifo.fifo',
  awsRegion: 'us-east-2',
} as const;

/** A message of a queue, as far as a function is told of it. */
export interface Queued {
  readonly id?: string;
  readonly body: string;
  readonly group?: string | undefined;
  readonly receives?: number;
  readonly sentAt?: number;
}

/** Messages as a queue of Amazon SQS hands them to a function; those with a group come from one that keeps the order. */
export function sqsEvent(messages: readonly Queued[]): SQSEvent {
  return {
    Records: messages.map(({ id = randomUUID(), body, group, receives = 1, sentAt = Date.now() }) => {
      const example = group === undefined ? STANDARD : FIFO;
      return {
        ...example,
        messageId: id,
        body,
        md5OfBody: createHash('md5').update(body).digest('hex'),
        attributes: {
          ...example.attributes,
          ApproximateReceiveCount: String(receives),
          SentTimestamp: String(sentAt),
          ...(group !== undefined && { MessageGroupId: group, MessageDeduplicationId: randomUUID() }),
        },
      };
    }),
  };
}

/**
 * "Payload format version 2.0": Amazon API Gateway developer guide, "Working with AWS Lambda proxy integrations for HTTP
 * APIs" (awsdocs/amazon-api-gateway-developer-guide, doc_source/http-api-develop-integrations-lambda.md); "all header names
 * are lowercase", as its newer text says. The example shows every kind of authorizer at once.
 */
const HTTP = {
  version: '2.0',
  routeKey: '$default',
  rawPath: '/my/path',
  rawQueryString: 'parameter1=value1&parameter1=value2&parameter2=value',
  cookies: ['cookie1', 'cookie2'],
  headers: { header1: 'value1', header2: 'value1,value2' },
  queryStringParameters: { parameter1: 'value1,value2', parameter2: 'value' },
  requestContext: {
    accountId: '123456789012',
    apiId: 'api-id',
    authentication: {
      clientCert: {
        clientCertPem: 'CERT_CONTENT',
        subjectDN: 'www.example.com',
        issuerDN: 'Example issuer',
        serialNumber: 'a1:a1:a1:a1:a1:a1:a1:a1:a1:a1:a1:a1:a1:a1:a1:a1',
        validity: { notBefore: 'May 28 12:30:02 2019 GMT', notAfter: 'Aug  5 09:36:04 2021 GMT' },
      },
    },
    authorizer: {
      jwt: { claims: { claim1: 'value1', claim2: 'value2' }, scopes: ['scope1', 'scope2'] },
    },
    domainName: 'id.execute-api.us-east-1.amazonaws.com',
    domainPrefix: 'id',
    http: { method: 'POST', path: '/my/path', protocol: 'HTTP/1.1', sourceIp: 'IP', userAgent: 'agent' },
    requestId: 'id',
    routeKey: '$default',
    stage: '$default',
    time: '12/Mar/2020:19:03:58 +0000',
    timeEpoch: 1583348638390,
  },
  body: 'Hello from Lambda',
  pathParameters: { parameter1: 'value1' },
  isBase64Encoded: false,
  stageVariables: { stageVariable1: 'value1', stageVariable2: 'value2' },
} as const;

/** A request as an HTTP API of Amazon API Gateway hands it to a function; bodies that are no text come in base64. */
export function httpEvent(
  method: string,
  path: string,
  { headers = {}, body }: { headers?: Readonly<Record<string, string>>; body?: string | Uint8Array } = {},
): object {
  const [rawPath = '', rawQueryString = ''] = path.split('?');
  const { body: _, ...example } = HTTP;
  return {
    ...example,
    rawPath,
    rawQueryString,
    queryStringParameters: Object.fromEntries(new URLSearchParams(rawQueryString)),
    headers: { ...example.headers, ...headers },
    requestContext: {
      ...example.requestContext,
      http: { ...example.requestContext.http, method, path: rawPath },
    },
    ...(typeof body === 'string' && { body }),
    ...(body instanceof Uint8Array && { body: Buffer.from(body).toString('base64'), isBase64Encoded: true }),
  };
}

/**
 * What Amazon EventBridge Scheduler sends to a function where no input is given. Its user guide shows no example; this is
 * one that somebody has kept (their account's number replaced), of which `detail` is a text, other than in the events of
 * EventBridge's rules. Our functions look at nothing of it.
 */
export const SCHEDULED = {
  version: '0',
  id: '37666ae6-48cf-4285-b4c6-a3320b38824a',
  'detail-type': 'Scheduled Event',
  source: 'aws.scheduler',
  account: '123456789012',
  time: '2024-06-13T12:30:00Z',
  region: 'us-east-2',
  resources: ['arn:aws:scheduler:us-east-2:123456789012:schedule/default/sweep'],
  detail: '{}',
} as const;

/**
 * Of version two, with the members that its schema names: Powertools for AWS Lambda (TypeScript) 2.26.1, API reference,
 * `PreTokenGenerationTriggerSchemaV2AndV3`; `response.claimsAndScopeOverrideDetails` is null in all events that people have
 * kept. Amazon Cognito developer guide, "Pre token generation Lambda trigger".
 */
export function preTokenEvent(userAttributes: Readonly<Record<string, string>>): object {
  return {
    version: '2',
    triggerSource: 'TokenGeneration_HostedAuth',
    region: 'us-east-1',
    userPoolId: 'us-east-1_ABC123',
    userName: 'a1b2c3d4-5678-90ab-cdef-EXAMPLE11111',
    callerContext: { awsSdkVersion: 'aws-sdk-unknown-unknown', clientId: '1example23456789' },
    request: {
      userAttributes,
      groupConfiguration: { groupsToOverride: [], iamRolesToOverride: [], preferredRole: null },
      scopes: ['openid', 'email'],
    },
    response: { claimsAndScopeOverrideDetails: null },
  } satisfies Record<keyof PreTokenGenerationV2TriggerEvent, unknown>;
}
