import { Stack, type StackProps } from 'aws-cdk-lib';
import { CfnEventSourceMapping, type IFunction } from 'aws-cdk-lib/aws-lambda';
import type { Queue } from 'aws-cdk-lib/aws-sqs';
import type { Construct } from 'constructs';
import type { FunctionSpec, QueueName } from '../../topology.ts';
import type { CloudTopology } from '../cloudTopology.ts';
import type { Stage } from '../stages.ts';
import type { Holdings } from './holdings.ts';
import { idOf } from './idOf.ts';
import { Lambda } from './lambda.ts';
import { Schedule } from './schedule.ts';
import { allow, statementsOf } from './statements.ts';
import { variablesOf } from './variables.ts';

interface FunctionsProps extends StackProps {
  readonly stage: Stage;
  readonly topology: CloudTopology;
  readonly holdings: Holdings;
  readonly failedRuns: Queue;
  /** Functions of the topology that are there before these. */
  readonly before: Readonly<Record<string, IFunction>>;
  readonly bundles: string;
}

/** The functions of the topology, but for those of signing in, which come before, each with what sets it off. */
export class FunctionsStack extends Stack {
  /** All of them, by their names in the topology. */
  readonly functions: Readonly<Record<string, IFunction>>;

  constructor(scope: Construct, id: string, props: FunctionsProps) {
    super(scope, id, props);
    const made = Object.entries(props.topology.functions)
      .filter(([, { source }]) => !('signIn' in source))
      .map(([name, spec]) => [name, this.makeFunction(name, spec, props)] as const);
    this.functions = { ...props.before, ...Object.fromEntries(made) };
  }

  private makeFunction(name: string, spec: FunctionSpec, props: FunctionsProps): IFunction {
    const { stage, holdings, failedRuns, bundles } = props;
    const isScheduled = 'everyMinutes' in spec.source;
    const lambda = new Lambda(this, idOf(name), {
      ...{ stage, bundles, bundle: name, timeoutSeconds: spec.timeoutSeconds },
      environment: variablesOf(spec, holdings),
      statements: [
        ...statementsOf(this, spec, holdings),
        // A run that failed whenever it was tried is noted by the function's own role.
        ...(isScheduled ? [allow(['sqs:SendMessage'], [failedRuns.queueArn])] : []),
      ],
    });
    if ('queue' in spec.source) this.feed(lambda, spec.source.queue, props);
    if ('everyMinutes' in spec.source) {
      const { everyMinutes } = spec.source;
      new Schedule(lambda, 'Schedule', { target: lambda.function, everyMinutes, failedRuns });
    }
    return lambda.function;
  }

  /** AWS Lambda Developer Guide, "Creating and configuring an Amazon SQS event source mapping". */
  private feed(lambda: Lambda, name: QueueName, { stage, topology, holdings }: FunctionsProps): void {
    const spec = topology.queues[name];
    new CfnEventSourceMapping(lambda, 'Source', {
      functionName: lambda.function.functionName,
      eventSourceArn: holdings.queues[name].queue.queueArn,
      batchSize: spec.batchSize,
      ...(spec.windowSeconds !== undefined && { maximumBatchingWindowInSeconds: spec.windowSeconds }),
      functionResponseTypes: ['ReportBatchItemFailures'],
      scalingConfig: {
        maximumConcurrency: Math.min(stage.batchesAtOnce, spec.batchesAtOnce ?? Infinity),
      },
    });
  }
}
