import { ArnFormat, type Stack } from 'aws-cdk-lib';
import { PolicyStatement } from 'aws-cdk-lib/aws-iam';
import type { Right } from '../../topology.ts';
import type { Holdings } from './holdings.ts';
import { meterCredentialRights } from './meterRights.ts';
import { allow, useOfKey } from './statements.ts';

/** What each right of the topology comes to. */
const RIGHTS: Readonly<Record<Right, (stack: Stack, holdings: Holdings) => PolicyStatement[]>> = {
  // Mail put together by ourselves asks for the second too: AWS re:Post, "Unauthorized error when I send emails in SES".
  'send-mail': (_, { mail }) =>
    mail ? [allow(['ses:SendEmail', 'ses:SendRawEmail'], [mail.identityArn])] : [],
  'send-sms': (stack) => [textMessages(stack)],
  'dead-letters': (_, { queues }) => {
    const pairs = Object.values(queues);
    return [
      allow(
        ['sqs:ReceiveMessage', 'sqs:ChangeMessageVisibility', 'sqs:DeleteMessage'],
        pairs.map(({ dead }) => dead.queueArn),
      ),
      allow(
        ['sqs:SendMessage'],
        pairs.map(({ queue }) => queue.queueArn),
      ),
    ];
  },
  'answer-key': (stack, { answerKeyArn, keyArn }) => secret(stack, answerKeyArn, keyArn),
  'operator-key': (stack, { operatorKeyArn, keyArn }) => secret(stack, operatorKeyArn, keyArn),
  'start-trials': (_, { trials }) => [
    allow(['states:StartExecution'], [trials.machineArn]),
    allow(['states:DescribeExecution'], [trials.runsArn]),
  ],
  'register-partitions': (stack, { catalogue }) => [
    allow(
      ['glue:BatchCreatePartition'],
      [
        glueArn(stack, 'catalog'),
        glueArn(stack, 'database', catalogue.name),
        ...catalogue.tables.map((table) => glueArn(stack, 'table', `${catalogue.name}/${table}`)),
      ],
    ),
  ],
  'meter-credentials': (stack) => meterCredentialRights(stack),
};

export function rightStatements(right: Right, stack: Stack, holdings: Holdings): PolicyStatement[] {
  return RIGHTS[right](stack, holdings);
}

function secret(stack: Stack, arn: string, keyArn: string): PolicyStatement[] {
  return [allow(['secretsmanager:GetSecretValue'], [arn]), useOfKey(stack, keyArn, 'secretsmanager', false)];
}

/** A telephone number has no ARN, so that all is allowed but what has one: topics. */
function textMessages(stack: Stack): PolicyStatement {
  const topics = stack.formatArn({ service: 'sns', region: '*', account: '*', resource: '*' });
  return new PolicyStatement({ actions: ['sns:Publish'], notResources: [topics] });
}

function glueArn(stack: Stack, resource: string, resourceName?: string): string {
  return stack.formatArn({
    service: 'glue',
    resource,
    ...(resourceName === undefined
      ? { arnFormat: ArnFormat.COLON_RESOURCE_NAME }
      : { resourceName, arnFormat: ArnFormat.SLASH_RESOURCE_NAME }),
  });
}
