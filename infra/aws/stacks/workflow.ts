import { ArnFormat, RemovalPolicy, Stack, type StackProps } from 'aws-cdk-lib';
import { PolicyDocument, Role, ServicePrincipal } from 'aws-cdk-lib/aws-iam';
import type { IFunction } from 'aws-cdk-lib/aws-lambda';
import { LogGroup } from 'aws-cdk-lib/aws-logs';
import { CfnStateMachine } from 'aws-cdk-lib/aws-stepfunctions';
import type { Construct } from 'constructs';
import type { WorkflowSpec } from '../../topology.ts';
import type { Stage } from '../stages.ts';
import type { Holdings } from './holdings.ts';
import { allow, useOfKey } from './statements.ts';
import { trialDefinition } from './trialDefinition.ts';

interface WorkflowProps extends StackProps {
  readonly stage: Stage;
  readonly spec: WorkflowSpec;
  readonly functions: Readonly<Record<string, IFunction>>;
  readonly holdings: Pick<Holdings, 'bucket' | 'keyArn'>;
}

/** What it is called: functions that start it come before it, and their rights and it must name the same. */
function trialMachineName({ name }: Stage): string {
  return `brinebell-${name}-trials`;
}

export function trialArns(stack: Stack, stage: Stage): Holdings['trials'] {
  const name = trialMachineName(stage);
  return { machineArn: machineArn(stack, name), runsArn: runsArn(stack, `${name}:*`) };
}

function machineArn(stack: Stack, name: string): string {
  const arnFormat = ArnFormat.COLON_RESOURCE_NAME;
  return stack.formatArn({ service: 'states', resource: 'stateMachine', resourceName: name, arnFormat });
}

function runsArn(stack: Stack, resourceName: string): string {
  const arnFormat = ArnFormat.COLON_RESOURCE_NAME;
  return stack.formatArn({ service: 'states', resource: 'execution', resourceName, arnFormat });
}

/** Rule trials over the whole archive: planned once, run for ranges of units side by side, summed once. */
export class WorkflowStack extends Stack {
  constructor(scope: Construct, id: string, props: WorkflowProps) {
    super(scope, id, props);
    const { stage, spec, functions, holdings } = props;
    const arnOf = (name: string) => {
      const found = functions[name];
      if (!found)
        throw new Error(`The workflow calls ${name}, which is no function of the topology: add it there`);
      return found.functionArn;
    };
    const steps = { plan: arnOf(spec.plan), each: arnOf(spec.each), sum: arnOf(spec.sum) };
    const log = new LogGroup(this, 'Log', {
      // Log groups of this prefix share one entry in the account's policy for logs, which has room for few: Step Functions
      // Developer Guide, "Logging using CloudWatch Logs".
      logGroupName: `/aws/vendedlogs/states/${trialMachineName(stage)}`,
      retention: stage.logDays,
      removalPolicy: RemovalPolicy.DESTROY,
    });
    new CfnStateMachine(this, 'Trials', {
      stateMachineName: trialMachineName(stage),
      stateMachineType: 'STANDARD',
      definitionString: this.toJsonString(
        trialDefinition({
          ...{ ...spec, ...steps, bucket: holdings.bucket.name, partition: this.partition },
          concurrency: Math.min(spec.concurrency, stage.trialRangesAtOnce),
        }),
      ),
      roleArn: this.makeRole(Object.values(steps), props).roleArn,
      tracingConfiguration: { enabled: true },
      loggingConfiguration: {
        level: 'ALL',
        // Rules are a company's own, and units are people's homes.
        includeExecutionData: false,
        destinations: [{ cloudWatchLogsLogGroup: { logGroupArn: log.logGroupArn } }],
      },
    });
  }

  private makeRole(called: readonly string[], { stage, holdings }: WorkflowProps): Role {
    const name = trialMachineName(stage);
    return new Role(this, 'Role', {
      assumedBy: new ServicePrincipal('states.amazonaws.com', {
        conditions: { StringEquals: { 'aws:SourceAccount': this.account } },
      }),
      inlinePolicies: {
        Run: new PolicyDocument({
          statements: [
            allow(['lambda:InvokeFunction'], called),
            allow(['s3:GetObject'], [`${holdings.bucket.arn}/trials/*`]),
            useOfKey(this, holdings.keyArn, 's3', false),
            // A distributed map runs as executions of its own: Step Functions Developer Guide, "IAM policies for using
            // Distributed Map states".
            allow(['states:StartExecution'], [machineArn(this, name)]),
            allow(['states:DescribeExecution', 'states:StopExecution'], [runsArn(this, `${name}/*`)]),
            allow(DELIVERY, ['*']),
            allow(TRACING, ['*']),
          ],
        }),
      },
    });
  }
}

/** Step Functions Developer Guide, "Logging using CloudWatch Logs", IAM policies. */
const DELIVERY = [
  ...['CreateLogDelivery', 'GetLogDelivery', 'UpdateLogDelivery', 'DeleteLogDelivery', 'ListLogDeliveries'],
  ...['PutResourcePolicy', 'DescribeResourcePolicies', 'DescribeLogGroups'],
].map((name) => `logs:${name}`);

/** Step Functions Developer Guide, "X-Ray and Step Functions", IAM policies. */
const TRACING = ['PutTraceSegments', 'PutTelemetryRecords', 'GetSamplingRules', 'GetSamplingTargets'].map(
  (name) => `xray:${name}`,
);
