import type { WorkflowSpec } from '../../topology.ts';

interface TrialDefinition extends Omit<WorkflowSpec, 'plan' | 'each' | 'sum'> {
  readonly plan: string;
  readonly each: string;
  readonly sum: string;
  /** The bucket of the list of items. */
  readonly bucket: string;
  readonly partition: string;
}

/** Where a function was not up to it: worth another try. */
const RETRY_SECONDS = 5;

/**
 * What AWS Lambda has to answer for, a lack of places among it: it says nothing about the work, is waited for, up to some
 * ten minutes, and counts for itself (Step Functions Developer Guide, "Handle Lambda service exceptions").
 */
const NOT_RUN = {
  ErrorEquals: [
    ...['TooManyRequestsException', 'ServiceException', 'AWSLambdaException'],
    ...['SdkClientException', 'ClientExecutionTimeoutException'],
  ].map((name) => `Lambda.${name}`),
  IntervalSeconds: 2,
  BackoffRate: 2,
  MaxDelaySeconds: 60,
  JitterStrategy: 'FULL',
  MaxAttempts: 15,
};

/**
 * The workflow in the Amazon States Language. `plan`, `each` and `sum` are ARNs. `plan` answers with the path of a list as
 * `items`; what it answers is what `sum` is given. What `each` answers is not kept: it leaves files.
 */
export function trialDefinition({ plan, each, sum, bucket, partition, ...spec }: TrialDefinition): object {
  const retry = [
    NOT_RUN,
    {
      ErrorEquals: ['States.ALL'],
      IntervalSeconds: RETRY_SECONDS,
      BackoffRate: 2,
      JitterStrategy: 'FULL',
      MaxAttempts: spec.attempts - 1,
    },
  ];
  const call = (arn: string) => ({
    Type: 'Task',
    Resource: `arn:${partition}:states:::lambda:invoke`,
    Parameters: { FunctionName: arn, 'Payload.$': '$' },
    Retry: retry,
  });
  return {
    Comment: 'A trial of rules over the archive',
    StartAt: 'Plan',
    States: {
      Plan: { ...call(plan), OutputPath: '$.Payload', Next: 'Each' },
      Each: {
        Type: 'Map',
        ItemReader: {
          Resource: `arn:${partition}:states:::s3:getObject`,
          ReaderConfig: { InputType: 'JSON' },
          Parameters: { Bucket: bucket, 'Key.$': '$.items' },
        },
        MaxConcurrency: spec.concurrency,
        ToleratedFailurePercentage: spec.toleratedFailurePercentage,
        ItemProcessor: {
          ProcessorConfig: { Mode: 'DISTRIBUTED', ExecutionType: 'STANDARD' },
          StartAt: 'Run',
          // An output of nothing: a workflow may hand on no more than 256 KiB of all of them together.
          States: { Run: { ...call(each), ResultPath: null, OutputPath: null, End: true } },
        },
        ResultPath: null,
        Next: 'Sum',
      },
      Sum: { ...call(sum), OutputPath: '$.Payload', End: true },
    },
  };
}
