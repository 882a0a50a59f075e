import type { Stack } from 'aws-cdk-lib';
import { AccountRootPrincipal, PolicyDocument, PolicyStatement, ServicePrincipal } from 'aws-cdk-lib/aws-iam';
import { Key } from 'aws-cdk-lib/aws-kms';

/** What the account's own administrators may do with it, and may let roles do: all that AWS KMS knows for such a key. */
export const ACCOUNT_ACTS = [
  ...['DescribeKey', 'GetKeyPolicy', 'PutKeyPolicy', 'ListKeyPolicies', 'UpdateKeyDescription'],
  ...['EnableKey', 'DisableKey', 'ScheduleKeyDeletion', 'CancelKeyDeletion'],
  ...[
    'EnableKeyRotation',
    'DisableKeyRotation',
    'GetKeyRotationStatus',
    'RotateKeyOnDemand',
    'ListKeyRotations',
  ],
  ...['CreateAlias', 'UpdateAlias', 'DeleteAlias', 'TagResource', 'UntagResource', 'ListResourceTags'],
  ...['CreateGrant', 'ListGrants', 'RevokeGrant'],
  ...[
    'Encrypt',
    'Decrypt',
    'ReEncryptFrom',
    'ReEncryptTo',
    'GenerateDataKey',
    'GenerateDataKeyWithoutPlaintext',
  ],
].map((action) => `kms:${action}`);

/**
 * The key of everything kept. Its policy names every act, where the usual one says `kms:*`; who may use it is then up to
 * the roles. Alarms and budgets may use it, for the operator's topic is encrypted too.
 */
export function dataKey(stack: Stack): Key {
  const key = new Key(stack, 'Key', {
    description: 'Brinebell: table, files, secrets, messages to the operator',
    enableKeyRotation: true,
    policy: new PolicyDocument({
      statements: [
        new PolicyStatement({
          sid: 'Account',
          principals: [new AccountRootPrincipal()],
          actions: ACCOUNT_ACTS,
          resources: ['*'],
        }),
        new PolicyStatement({
          sid: 'ToldToTheOperator',
          principals: ['cloudwatch', 'budgets'].map((name) => new ServicePrincipal(`${name}.amazonaws.com`)),
          actions: ['kms:Decrypt', 'kms:GenerateDataKey'],
          resources: ['*'],
          conditions: { StringEquals: { 'aws:SourceAccount': stack.account } },
        }),
      ],
    }),
  });
  return key;
}
