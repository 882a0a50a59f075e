import { Stack } from 'aws-cdk-lib';
import { PolicyDocument, Role, ServicePrincipal } from 'aws-cdk-lib/aws-iam';
import { CfnEventInvokeConfig, type IFunction } from 'aws-cdk-lib/aws-lambda';
import { CfnSchedule } from 'aws-cdk-lib/aws-scheduler';
import type { IQueue } from 'aws-cdk-lib/aws-sqs';
import { Construct } from 'constructs';
import { allow } from './statements.ts';

const DAY_MINUTES = 24 * 60;
const RETRIES = 2;

interface ScheduleProps {
  readonly target: IFunction;
  readonly everyMinutes: number;
  /** Where a run is noted that could not be begun, or failed whenever it was tried. */
  readonly failedRuns: IQueue;
}

/** Runs a function every so often. A run that is overdue by as much as the next is given up: that one does its work too. */
export class Schedule extends Construct {
  constructor(scope: Construct, id: string, { target, everyMinutes, failedRuns }: ScheduleProps) {
    super(scope, id);
    const role = new Role(this, 'Role', {
      assumedBy: new ServicePrincipal('scheduler.amazonaws.com', {
        conditions: { StringEquals: { 'aws:SourceAccount': Stack.of(this).account } },
      }),
      inlinePolicies: {
        Run: new PolicyDocument({
          statements: [
            allow(['lambda:InvokeFunction'], [target.functionArn]),
            allow(['sqs:SendMessage'], [failedRuns.queueArn]),
          ],
        }),
      },
    });
    new CfnSchedule(this, 'Schedule', {
      scheduleExpression:
        everyMinutes % DAY_MINUTES === 0
          ? rate(everyMinutes / DAY_MINUTES, 'day')
          : rate(everyMinutes, 'minute'),
      flexibleTimeWindow: { mode: 'OFF' },
      target: {
        arn: target.functionArn,
        roleArn: role.roleArn,
        deadLetterConfig: { arn: failedRuns.queueArn },
        retryPolicy: { maximumEventAgeInSeconds: everyMinutes * 60, maximumRetryAttempts: RETRIES },
      },
    });
    new CfnEventInvokeConfig(this, 'Failed', {
      functionName: target.functionName,
      qualifier: '$LATEST',
      maximumEventAgeInSeconds: Math.min(everyMinutes * 60, LONGEST_AGE_SECONDS),
      maximumRetryAttempts: RETRIES,
      destinationConfig: { onFailure: { destination: failedRuns.queueArn } },
    });
  }
}

/** AWS Lambda API reference, `MaximumEventAgeInSeconds`: 60 to 21,600. */
const LONGEST_AGE_SECONDS = 21_600;

/** Amazon EventBridge Scheduler User Guide, "Schedule types": one is not many. */
function rate(count: number, unit: 'minute' | 'day'): string {
  return `rate(${count} ${unit}${count === 1 ? '' : 's'})`;
}
