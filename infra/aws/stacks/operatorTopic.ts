import { Stack } from 'aws-cdk-lib';
import { PolicyStatement, ServicePrincipal } from 'aws-cdk-lib/aws-iam';
import type { IKey } from 'aws-cdk-lib/aws-kms';
import { Topic } from 'aws-cdk-lib/aws-sns';
import { EmailSubscription } from 'aws-cdk-lib/aws-sns-subscriptions';
import type { Construct } from 'constructs';

interface OperatorTopicProps {
  readonly displayName: string;
  readonly key: IKey;
  readonly mail?: string | undefined;
}

/** What tells the operator: alarms and the budget of this account speak, and a mail address listens. */
export function operatorTopic(
  scope: Construct,
  id: string,
  { displayName, key, mail }: OperatorTopicProps,
): Topic {
  const topic = new Topic(scope, id, { displayName, masterKey: key, enforceSSL: true });
  topic.addToResourcePolicy(
    new PolicyStatement({
      sid: 'AlarmsAndBudgets',
      principals: ['cloudwatch', 'budgets'].map((name) => new ServicePrincipal(`${name}.amazonaws.com`)),
      actions: ['sns:Publish'],
      resources: [topic.topicArn],
      conditions: { StringEquals: { 'aws:SourceAccount': Stack.of(scope).account } },
    }),
  );
  if (mail !== undefined) topic.addSubscription(new EmailSubscription(mail));
  return topic;
}
