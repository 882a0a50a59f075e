import { Stack, type StackProps } from 'aws-cdk-lib';
import { CfnBudget } from 'aws-cdk-lib/aws-budgets';
import { Alarm, ComparisonOperator, TreatMissingData } from 'aws-cdk-lib/aws-cloudwatch';
import { SnsAction } from 'aws-cdk-lib/aws-cloudwatch-actions';
import type { IKey } from 'aws-cdk-lib/aws-kms';
import type { Topic } from 'aws-cdk-lib/aws-sns';
import type { Construct } from 'constructs';
import type { AlarmSpec, BudgetSpec } from '../alarmSpec.ts';
import type { Stage } from '../stages.ts';
import { addDashboard } from './dashboard.ts';
import { valueMetric } from './metrics.ts';
import { operatorTopic } from './operatorTopic.ts';
import type { Watched } from './watched.ts';

interface WatchProps extends StackProps {
  readonly stage: Stage;
  readonly alarms: readonly AlarmSpec[];
  readonly budget: BudgetSpec;
  readonly budgetDollars?: number | undefined;
  readonly key: IKey;
  readonly watched: Watched;
  readonly operatorMail?: string | undefined;
}

/** What tells the operator that something is wrong, and a page to look at it. */
export class WatchStack extends Stack {
  /** By how soon somebody is to look. */
  private readonly topics: Readonly<Record<AlarmSpec['urgency'], Topic>>;

  constructor(scope: Construct, id: string, props: WatchProps) {
    super(scope, id, props);
    const { stage, key, operatorMail: mail, watched } = props;
    this.topics = {
      wake: operatorTopic(this, 'Wake', { key, mail, displayName: 'Brinebell: now' }),
      morning: operatorTopic(this, 'Morning', { key, mail, displayName: 'Brinebell: by the morning' }),
    };
    for (const alarm of props.alarms) this.addAlarm(alarm, stage, watched);
    this.addBudget(props);
    addDashboard(this, stage, watched);
  }

  private addAlarm(spec: AlarmSpec, { name: stage }: Stage, watched: Watched): void {
    const metric = valueMetric(spec.value, watched, spec.periodSeconds);
    if (!metric) return; // Of a part that this deployment does not have.
    const alarm = new Alarm(this, spec.name, {
      metric,
      alarmName: `brinebell-${stage}-${spec.name}`,
      alarmDescription: `${spec.means} What to do: docs/runbook.md, ${spec.section}.`,
      threshold: spec.threshold,
      evaluationPeriods: spec.periods,
      comparisonOperator:
        spec.is === 'below'
          ? ComparisonOperator.LESS_THAN_THRESHOLD
          : ComparisonOperator.GREATER_THAN_OR_EQUAL_TO_THRESHOLD,
      treatMissingData: spec.missing === 'bad' ? TreatMissingData.BREACHING : TreatMissingData.NOT_BREACHING,
    });
    const action = new SnsAction(this.topics[spec.urgency]);
    alarm.addAlarmAction(action);
    alarm.addOkAction(action);
  }

  /** Of the whole account: one that does nothing else is what the guide to deploying asks for. */
  private addBudget({ stage, budget, budgetDollars }: WatchProps): void {
    const tell = (notificationType: 'ACTUAL' | 'FORECASTED', threshold: number) => ({
      notification: {
        notificationType,
        threshold,
        comparisonOperator: 'GREATER_THAN',
        thresholdType: 'PERCENTAGE',
      },
      subscribers: [{ subscriptionType: 'SNS', address: this.topics.morning.topicArn }],
    });
    const made = new CfnBudget(this, 'Budget', {
      budget: {
        budgetName: `brinebell-${stage.name}-${budget.name}`,
        budgetType: 'COST',
        timeUnit: 'MONTHLY',
        budgetLimit: { amount: budgetDollars ?? budget.dollars[stage.name], unit: 'USD' },
      },
      notificationsWithSubscribers: [
        tell('ACTUAL', budget.tellAtPercent.actual),
        tell('FORECASTED', budget.tellAtPercent.forecast),
      ],
    });
    // The topic must let it in before it is named: AWS Cost Management User Guide, "Creating an Amazon SNS topic for budget
    // notifications".
    made.node.addDependency(this.topics.morning);
  }
}
