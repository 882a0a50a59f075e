import { App, Duration, Stack, Validations } from 'aws-cdk-lib';
import { Match, Template } from 'aws-cdk-lib/assertions';
import { Key } from 'aws-cdk-lib/aws-kms';
import { Code, type IFunction, Function as LambdaFunction, Runtime } from 'aws-cdk-lib/aws-lambda';
import { type IQueue, Queue } from 'aws-cdk-lib/aws-sqs';
import { AwsSolutionsChecks } from 'cdk-nag';
import { expect, test } from 'vitest';
import * as z from 'zod';
import { claimPolicy, meterPolicy } from '../../../infra/aws/stacks/meterPolicies.ts';
import { meterCredentialRights } from '../../../infra/aws/stacks/meterRights.ts';
import { MetersStack } from '../../../infra/aws/stacks/meters.ts';
import { acceptWildcards } from '../../../infra/aws/wildcards.ts';

const ENV = { account: '123456789012', region: 'us-east-1' };
const TEMPLATE = 'brinebell-test';
const arnOf = (resource: string) => `arn:aws:iot:us-east-1:123456789012:${resource}`;

/** The stack beside a queue under a key of its own and a function, which are others' business. */
function made({ claims = true, env = ENV as typeof ENV | undefined } = {}) {
  const app = new App({ analyticsReporting: false });
  const others = new Stack(app, 'Others', { ...(env && { env }) });
  const ingestQueue: IQueue = new Queue(others, 'Ingest', { encryptionMasterKey: new Key(others, 'Key') });
  const admitFunction: IFunction = new LambdaFunction(others, 'Admit', {
    ...{ code: Code.fromInline('-'), handler: 'index.handler', runtime: Runtime.NODEJS_22_X },
  });
  const stack = new MetersStack(app, 'Meters', {
    ...{ ingestQueue, ...(env && { env }) },
    ...(claims && { claims: { admitFunction, template: TEMPLATE } }),
  });
  return { app, others, stack, admitFunction };
}

/** The template of the stack, which is then made: nothing can be added to it any more. */
function templateOf(options?: Parameters<typeof made>[0]) {
  return Template.fromStack(made(options).stack);
}

/** A value of a template with what CloudFormation would fill in; references become their logical ids. */
function filled(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(filled);
  if (typeof value !== 'object' || value === null) return value;
  const { Ref, 'Fn::Join': join, 'Fn::GetAtt': att, 'Fn::ImportValue': imported } = Object(value);
  if (Ref === 'AWS::Partition') return 'aws';
  if (typeof Ref === 'string') return Ref;
  if (Array.isArray(att)) return att.join('.');
  if (typeof imported === 'string') return imported.replace(/^Others:ExportsOutput/, '');
  if (Array.isArray(join)) return (filled(join[1]) as unknown[]).join(String(join[0]));
  return Object.fromEntries(Object.entries(value).map(([name, each]) => [name, filled(each)]));
}

const statementsSchema = z.array(
  z.object({ Action: z.union([z.string(), z.array(z.string())]), Resource: z.unknown() }),
);

/** Resources of a type, by logical id, filled in. */
function resources(template: Template, type: string): [string, Record<string, unknown>][] {
  return Object.entries(template.findResources(type)).map(([id, { Properties }]) => [
    id,
    z.record(z.string(), z.unknown()).parse(filled(Properties)),
  ]);
}

/** What the role of a logical id's beginning may do: action and resource. */
function rightsOf(template: Template, role: string): string[] {
  const policies = resources(template, 'AWS::IAM::Policy').filter(([, { Roles }]) =>
    z
      .array(z.string())
      .parse(Roles)
      .some((id) => id.startsWith(role)),
  );
  return policies
    .flatMap(([, { PolicyDocument }]) =>
      statementsSchema.parse(z.object({ Statement: z.unknown() }).parse(PolicyDocument).Statement),
    )
    .flatMap(({ Action, Resource }) =>
      [Action].flat().flatMap((action) => [Resource].flat().map((resource) => `${action} ${resource}`)),
    )
    .sort();
}

test('the rule hands the payload to the letter, and who sent it, to the ingest queue, and what fails to a queue of its own', () => {
  const template = templateOf();
  const [[, rule] = []] = resources(template, 'AWS::IoT::TopicRule');
  expect(rule).toMatchObject({
    TopicRulePayload: {
      Sql: "SELECT encode(*, 'base64') AS data, clientid() AS thing, principal() AS principal, topic(2) AS unitId, timestamp() AS receivedAt FROM 'units/+/events'",
      AwsIotSqlVersion: '2016-03-23',
      Actions: [
        {
          Sqs: {
            QueueUrl: expect.stringMatching(/^RefIngest/),
            RoleArn: expect.stringMatching(/^EventsRole/),
            UseBase64: false,
          },
        },
      ],
      ErrorAction: {
        Sqs: {
          QueueUrl: expect.stringMatching(/^Undelivered/),
          RoleArn: expect.stringMatching(/^UndeliveredRole/),
          UseBase64: false,
        },
      },
    },
  });
  expect(JSON.stringify(rule)).not.toContain('RuleDisabled":true');
  template.hasResourceProperties('AWS::SQS::Queue', {
    MessageRetentionPeriod: Duration.days(14).toSeconds(),
    SqsManagedSseEnabled: true,
  });
});

test('each role of the rule sends to its one queue and does nothing else', () => {
  const template = templateOf();
  expect(rightsOf(template, 'EventsRole')).toEqual([
    expect.stringMatching(/^kms:Decrypt FnGetAttKey/),
    expect.stringMatching(/^kms:GenerateDataKey FnGetAttKey/),
    expect.stringMatching(/^sqs:SendMessage FnGetAttIngest/),
  ]);
  expect(rightsOf(template, 'UndeliveredRole')).toEqual([
    expect.stringMatching(/^sqs:SendMessage Undelivered[0-9A-F]+\.Arn$/),
  ]);
});

test('AWS IoT Core takes the roles on for this account alone', () => {
  const template = templateOf();
  const roles = resources(template, 'AWS::IAM::Role');
  expect(roles).toHaveLength(3);
  for (const [, { AssumeRolePolicyDocument, ManagedPolicyArns }] of roles) {
    expect(ManagedPolicyArns).toBeUndefined();
    expect(AssumeRolePolicyDocument).toMatchObject({
      Statement: [
        {
          Principal: { Service: 'iot.amazonaws.com' },
          Condition: {
            StringEquals: { 'aws:SourceAccount': ENV.account },
            ArnLike: { 'aws:SourceArn': arnOf('*') },
          },
        },
      ],
    });
  }
});

test('the policies of the template are those that the properties are tried on', () => {
  const template = templateOf();
  const documents = resources(template, 'AWS::IoT::Policy').map(([, { PolicyDocument }]) => PolicyDocument);
  expect(documents).toHaveLength(2);
  expect(documents).toContainEqual(meterPolicy(arnOf));
  expect(documents).toContainEqual(claimPolicy(arnOf, TEMPLATE));
  // 2,048 characters without white space: the quota of AWS IoT Core, from memory, unverified.
  for (const document of documents) expect(JSON.stringify(document).length).toBeLessThanOrEqual(2048);
});

test('a meter that claims becomes the thing that the function names, with the policy of meters', () => {
  const template = templateOf();
  const [[, provisioning] = []] = resources(template, 'AWS::IoT::ProvisioningTemplate');
  expect(provisioning).toMatchObject({
    TemplateName: TEMPLATE,
    Enabled: true,
    ProvisioningRoleArn: expect.stringMatching(/^ProvisioningRole/),
    PreProvisioningHook: { TargetArn: expect.stringMatching(/^FnGetAttAdmit/), PayloadVersion: '2020-04-01' },
  });
  const [thingType] = resources(template, 'AWS::IoT::ThingType').map(([id]) => id);
  const policy = resources(template, 'AWS::IoT::Policy')
    .map(([id]) => id)
    .find((id) => id.startsWith('MeterPolicy'));
  expect(JSON.parse(String(provisioning?.TemplateBody))).toMatchObject({
    Resources: {
      thing: {
        Properties: {
          ThingName: { Ref: 'ThingName' },
          ThingTypeName: thingType,
          AttributePayload: { companyId: { Ref: 'CompanyId' }, unitId: { Ref: 'UnitId' } },
        },
      },
      certificate: {
        Properties: { CertificateId: { Ref: 'AWS::IoT::Certificate::Id' }, Status: 'Active' },
      },
      policy: { Properties: { PolicyName: policy } },
    },
  });
  template.hasResourceProperties('AWS::Lambda::Permission', {
    Action: 'lambda:InvokeFunction',
    Principal: 'iot.amazonaws.com',
    SourceAccount: ENV.account,
    SourceArn: Match.objectLike({ 'Fn::Join': Match.anyValue() }),
  });
  const [[, permission] = []] = resources(template, 'AWS::Lambda::Permission');
  expect(permission?.SourceArn).toBe(arnOf(`provisioningtemplate/${TEMPLATE}`));
});

test('what makes things makes none that is not named as a meter is, and no policy', () => {
  const template = templateOf();
  const rights = rightsOf(template, 'ProvisioningRole');
  for (const right of rights) {
    const [action = '', resource = ''] = right.split(' ');
    expect(action).toMatch(/^iot:/);
    expect(action).not.toMatch(/\*|Delete|CreatePolicy|DetachPolicy|RoleAlias|TopicRule/);
    if (/^iot:(Create|Update|Describe)Thing$/.test(action) && !resource.includes(':thingtype/')) {
      expect(resource, right).toBe(arnOf('thing/*:*'));
    }
  }
  const anywhere = rights.filter((right) => right.endsWith(' *')).map((right) => right.split(' ')[0]);
  // Actions that take no resource: Service Authorization Reference, AWS IoT.
  expect(anywhere).toEqual([
    'iot:AttachThingPrincipal',
    'iot:ListAttachedPolicies',
    'iot:ListPrincipalPolicies',
    'iot:ListPrincipalThings',
    'iot:ListThingPrincipals',
    'iot:RegisterThing',
  ]);
});

test('without the function nobody can claim', () => {
  const template = templateOf({ claims: false });
  template.resourceCountIs('AWS::IoT::ProvisioningTemplate', 0);
  template.resourceCountIs('AWS::IoT::Policy', 1);
  template.resourceCountIs('AWS::Lambda::Permission', 0);
  expect(Object.keys(templateOf().findOutputs('*'))).toContain('ClaimPolicyName');
});

test.each([
  ['of one account and region', ENV],
  ['of any', undefined],
])('cdk-nag finds nothing in the stack %s that is not answered', (_, env) => {
  const { app, stack, others } = made({ env });
  acceptWildcards(app);
  Validations.of(app).addPlugins(new AwsSolutionsChecks(app));
  let found = '';
  try {
    app.synth();
  } catch (error) {
    found = String(error);
  }
  const paths = [...found.matchAll(/^ {3}(\S+)\/Resource /gm)].map(([, path]) => path?.split('/')[0]);
  // The queue and function beside it show that the rules are at work.
  expect(paths).toContain(others.node.id);
  expect(paths.filter((path) => path === stack.node.id)).toEqual([]);
});

test('a function that may revoke certificates may do that and no more', () => {
  const { others, admitFunction } = made();
  for (const right of meterCredentialRights(others)) admitFunction.addToRolePolicy(right);
  expect(rightsOf(Template.fromStack(others), 'AdmitServiceRole')).toEqual([
    'iot:DescribeEndpoint *',
    'iot:DetachThingPrincipal *',
    'iot:ListThingPrincipals *',
    `iot:UpdateCertificate ${arnOf('cert/*')}`,
  ]);
});
