import { CfnResource, Stack, Validations } from 'aws-cdk-lib';
import { CfnPolicy, CfnRole } from 'aws-cdk-lib/aws-iam';
import { flattenCfnReference } from 'cdk-nag/lib/utils/flatten-cfn-reference.js';
import type { IConstruct } from 'constructs';
import * as z from 'zod';
import { ACCOUNT_ACTS } from './stacks/dataKey.ts';

/** A resource with a `*` in it that a policy may name, and for what. */
interface Wildcard {
  /** Whose policy: a role's, that of a resource itself, or of what signs in with AWS IoT Core. */
  readonly of: 'role' | 'resource' | 'meter';
  /** All of the acts that it may be given for. */
  readonly actions: readonly string[];
  /** The resource, with references flattened to `<Name.Arn>` or the name of an export. */
  readonly resource: RegExp;
  /** Why no narrower one does, in one line. */
  readonly reason: string;
}

const OBJECTS = ['s3:GetObject', 's3:PutObject', 's3:DeleteObject'];

/** Every `*` that stands in a policy. Another is found by cdk-nag, and by the test that walks all of them. */
export const WILDCARDS: readonly Wildcard[] = [
  {
    of: 'role',
    actions: ['xray:PutTraceSegments', 'xray:PutTelemetryRecords'],
    resource: /^\*$/,
    reason: 'X-Ray takes traces for no resource in particular: its acts know no other.',
  },
  {
    of: 'role',
    actions: ['xray:GetSamplingRules', 'xray:GetSamplingTargets'],
    resource: /^\*$/,
    reason: 'X-Ray says what to trace for the whole account: its acts know no resource.',
  },
  {
    of: 'role',
    actions: [
      ...['logs:CreateLogDelivery', 'logs:GetLogDelivery', 'logs:UpdateLogDelivery'],
      ...['logs:DeleteLogDelivery', 'logs:ListLogDeliveries', 'logs:PutResourcePolicy'],
      ...['logs:DescribeResourcePolicies', 'logs:DescribeLogGroups'],
    ],
    resource: /^\*$/,
    reason: 'Step Functions sets up the delivery of its log by acts that know no resource.',
  },
  {
    of: 'role',
    actions: OBJECTS,
    resource: /(facts|accounts|estimates|reports|trials)\/\*$/,
    reason: 'The objects of one folder: their names are not known beforehand.',
  },
  {
    of: 'role',
    actions: ['s3:PutObject', 's3:DeleteObject'],
    resource: /^<Console[0-9A-F]{8}\.Arn>\/\*$/,
    reason: 'The console’s own bucket holds nothing but the files that this puts there.',
  },
  {
    of: 'role',
    actions: ['states:DescribeExecution', 'states:StopExecution'],
    resource: /:execution:brinebell-(small|large)-trials[:/]\*$/,
    reason: 'The runs of one workflow: each has a name made when it starts.',
  },
  {
    of: 'role',
    actions: ['sns:Publish'],
    resource: /^all but arn:<AWS::Partition>:sns:\*:\*:\*$/,
    reason: 'A telephone number has no name that a policy could use: all but topics is what is left.',
  },
  {
    of: 'role',
    actions: [
      ...['iot:RegisterThing', 'iot:AttachThingPrincipal', 'iot:DetachThingPrincipal'],
      ...['iot:ListThingPrincipals', 'iot:ListPrincipalThings', 'iot:ListPrincipalPolicies'],
      ...['iot:ListAttachedPolicies', 'iot:DescribeEndpoint'],
    ],
    resource: /^\*$/,
    reason: 'These actions take no resource (Service Authorization Reference, AWS IoT).',
  },
  {
    of: 'role',
    actions: ['CreateThing', 'DescribeThing', 'UpdateThing', 'ListThingGroupsForThing'].map(
      (name) => `iot:${name}`,
    ),
    resource: /:thing\/\*:\*$/,
    reason: 'Things are made for units that nobody knows yet; no other thing is named with a colon.',
  },
  {
    of: 'role',
    actions: ['DescribeCertificate', 'UpdateCertificate', 'AttachPolicy', 'AttachPrincipalPolicy'].map(
      (name) => `iot:${name}`,
    ),
    resource: /:cert\/\*$/,
    reason: 'The id of a certificate is known when it is made, and not before.',
  },
  {
    of: 'meter',
    actions: ['iot:Connect'],
    resource: /:client\/_claim-\*$/,
    reason: 'Who claims has no name of its own yet, and many may claim at once.',
  },
  {
    of: 'resource',
    actions: ACCOUNT_ACTS,
    resource: /^\*$/,
    reason: 'In the policy of a key itself it means that key.',
  },
  {
    of: 'resource',
    actions: ['s3:GetObject'],
    resource: /^<Console[0-9A-F]{8}\.Arn>\/\*$/,
    reason: 'The distribution serves whatever the console’s bucket holds, which is the console.',
  },
  {
    of: 'resource',
    actions: ['s3:PutObject'],
    resource: /^<AccessLogs[0-9A-F]{8}\.Arn>\/(files|console|results|edge)\/\*$/,
    reason: 'Amazon S3 writes its log of a bucket as objects of a folder.',
  },
];

const statementSchema = z.object({
  Effect: z.string(),
  Action: z.union([z.string().transform((action) => [action]), z.array(z.string())]),
  Resource: z.unknown().optional(),
});
const documentSchema = z.object({ Statement: z.array(statementSchema) });

/**
 * Tells cdk-nag of each wildcard of the roles that the table above has a reason for. How a resource of another stack is
 * written is known only once all stacks are there, so it waits until then.
 */
export function acceptWildcards(scope: IConstruct): void {
  scope.node.addValidation({
    validate() {
      for (const node of scope.node.findAll()) {
        if (CfnResource.isCfnResource(node)) acceptIn(node);
      }
      return [];
    },
  });
}

function acceptIn(node: CfnResource): void {
  for (const { Effect, Action, Resource } of statementsOf(node)) {
    if (Effect !== 'Allow') continue;
    for (const resource of [Resource ?? []].flat().map(flattenCfnReference)) {
      if (!resource.includes('*')) continue;
      const reasons = Action.map((action) => wildcardFor('role', action, resource)?.reason);
      const [reason] = reasons;
      if (reason === undefined || reasons.includes(undefined)) continue;
      Validations.of(node).acknowledge({ id: `AwsSolutions-IAM5[Resource::${resource}]`, reason });
    }
  }
}

/** What the table has for an act on a resource; undefined where nothing is a reason. */
export function wildcardFor(of: Wildcard['of'], action: string, resource: string): Wildcard | undefined {
  return WILDCARDS.find(
    (wildcard) => wildcard.of === of && wildcard.actions.includes(action) && wildcard.resource.test(resource),
  );
}

function statementsOf(node: CfnResource) {
  const stack = Stack.of(node);
  const documents =
    node instanceof CfnPolicy
      ? [stack.resolve(node.policyDocument)]
      : node instanceof CfnRole
        ? z
            .array(z.object({ policyDocument: z.unknown() }))
            .catch([])
            .parse(stack.resolve(node.policies))
            .map(({ policyDocument }) => stack.resolve(policyDocument))
        : [];
  return documents.flatMap((document) => documentSchema.parse(document).Statement);
}
