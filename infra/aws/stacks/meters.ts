import {
  CfnOutput,
  type CfnResource,
  Duration,
  RemovalPolicy,
  Stack,
  type StackProps,
  Validations,
} from 'aws-cdk-lib';
import { Effect, PolicyStatement, Role, ServicePrincipal } from 'aws-cdk-lib/aws-iam';
import { CfnPolicy, CfnProvisioningTemplate, CfnThingType, CfnTopicRule } from 'aws-cdk-lib/aws-iot';
import { CfnPermission, type IFunction } from 'aws-cdk-lib/aws-lambda';
import { type IQueue, Queue, QueueEncryption } from 'aws-cdk-lib/aws-sqs';
import type { Construct } from 'constructs';
import { claimPolicy, meterPolicy } from './meterPolicies.ts';
import { METER_RULE } from './meterRule.ts';
import { meterTemplate } from './meterTemplate.ts';

/** As long as Amazon SQS keeps anything (Developer Guide, "Message quotas"). */
const KEPT = Duration.days(14);

export interface MetersProps extends StackProps {
  /** Where events go. */
  readonly ingestQueue: IQueue;
  /** Lets meters claim certificates; without it none can, and things are made by hand. */
  readonly claims?: {
    /** The function `admit`. */
    readonly admitFunction: IFunction;
    /** The name of the template, of up to 36 characters; the functions are told of it by `ENVIRONMENT.claimTemplate`. */
    readonly template: string;
  };
}

/** The door for meters on AWS: what they are, what they may do, where what they publish goes, how they come in. */
export class MetersStack extends Stack {
  /** What could not be handed to the ingest queue, as the error action leaves it. Whatever is in it calls for somebody. */
  readonly undelivered: Queue;
  readonly rule: CfnTopicRule;

  constructor(scope: Construct, id: string, { ingestQueue, claims, ...props }: MetersProps) {
    super(scope, id, props);
    const thingType = new CfnThingType(this, 'Meter', {
      thingTypeProperties: {
        thingTypeDescription: 'A meter of a softener',
        searchableAttributes: ['companyId', 'unitId'],
      },
    });
    const policy = new CfnPolicy(this, 'MeterPolicy', { policyDocument: meterPolicy(this.#arnOf) });
    keep(thingType);
    keep(policy);
    this.undelivered = new Queue(this, 'Undelivered', {
      encryption: QueueEncryption.SQS_MANAGED,
      enforceSSL: true,
      retentionPeriod: KEPT,
    });
    Validations.of(this.undelivered).acknowledge({
      id: 'AwsSolutions-SQS3',
      reason: 'It is itself where what failed ends; an alarm stands on it.',
    });
    this.rule = new CfnTopicRule(this, 'Events', {
      topicRulePayload: {
        ...METER_RULE,
        description: 'Events of meters, with who sent them, to the ingest queue',
        actions: [this.#sendTo(ingestQueue, 'EventsRole')],
        errorAction: this.#sendTo(this.undelivered, 'UndeliveredRole'),
      },
    });
    if (claims) this.#letClaim(claims, { thingType: thingType.ref, policy: policy.ref });
  }

  /** An action that sends to one queue, with a role that may do nothing else. */
  #sendTo(queue: IQueue, roleId: string): CfnTopicRule.ActionProperty {
    const role = this.#roleOfIot(roleId);
    role.addToPolicy(new PolicyStatement({ actions: ['sqs:SendMessage'], resources: [queue.queueArn] }));
    if (queue.encryptionMasterKey) {
      // What Amazon SQS asks of whoever sends to a queue under such a key (Developer Guide, "Key management").
      queue.encryptionMasterKey.grant(role, 'kms:GenerateDataKey', 'kms:Decrypt');
    }
    return { sqs: { queueUrl: queue.queueUrl, roleArn: role.roleArn, useBase64: false } };
  }

  #letClaim(
    { admitFunction, template }: NonNullable<MetersProps['claims']>,
    made: { thingType: string; policy: string },
  ) {
    const claiming = new CfnPolicy(this, 'ClaimPolicy', {
      policyDocument: claimPolicy(this.#arnOf, template),
    });
    keep(claiming);
    new CfnOutput(this, 'ClaimPolicyName', {
      value: claiming.ref,
      description: 'The policy to attach to claim certificates (docs/onboarding.md)',
    });
    const role = this.#provisioningRole(made);
    const asking = new CfnPermission(this, 'AskedByIot', {
      action: 'lambda:InvokeFunction',
      functionName: admitFunction.functionArn,
      principal: 'iot.amazonaws.com',
      sourceAccount: this.account,
      sourceArn: this.#arnOf(`provisioningtemplate/${template}`),
    });
    const provisioning = new CfnProvisioningTemplate(this, 'Template', {
      templateName: template,
      description: 'Makes what claims with a right code the meter of its unit',
      enabled: true,
      provisioningRoleArn: role.roleArn,
      preProvisioningHook: { targetArn: admitFunction.functionArn, payloadVersion: '2020-04-01' },
      templateBody: this.toJsonString(meterTemplate(made)),
    });
    // Nobody may claim before the hook can be asked (AWS IoT Core, Developer Guide, "Pre-provisioning hooks").
    provisioning.addResourceDependency(asking);
  }

  /**
   * What AWS IoT Core may do when it makes a meter's thing: of the managed policy that AWS gives for it
   * (AWSIoTThingsRegistration) what our template asks for, on things that are called as meters are.
   */
  #provisioningRole({ thingType, policy }: { thingType: string; policy: string }): Role {
    const role = this.#roleOfIot('ProvisioningRole');
    const allow = (actions: readonly string[], resources: readonly string[]) =>
      role.addToPolicy(
        new PolicyStatement({
          effect: Effect.ALLOW,
          actions: actions.map((action) => `iot:${action}`),
          resources: [...resources],
        }),
      );
    const things = 'thing/*:*';
    const certificates = 'cert/*';
    allow(['CreateThing', 'DescribeThing', 'UpdateThing', 'ListThingGroupsForThing'], [this.#arnOf(things)]);
    allow(['CreateThing', 'UpdateThing', 'DescribeThingType'], [this.#arnOf(`thingtype/${thingType}`)]);
    allow(['GetPolicy'], [this.#arnOf(`policy/${policy}`)]);
    allow(
      ['DescribeCertificate', 'UpdateCertificate', 'AttachPolicy', 'AttachPrincipalPolicy'],
      [this.#arnOf(certificates)],
    );
    allow(
      [
        ...['RegisterThing', 'AttachThingPrincipal', 'ListThingPrincipals', 'ListPrincipalThings'],
        ...['ListPrincipalPolicies', 'ListAttachedPolicies'],
      ],
      ['*'],
    );
    return role;
  }

  /** A role that AWS IoT Core takes on for this account and nobody else's (Developer Guide, "Cross-service confused deputy prevention"). */
  #roleOfIot(id: string): Role {
    return new Role(this, id, {
      assumedBy: new ServicePrincipal('iot.amazonaws.com', {
        conditions: {
          StringEquals: { 'aws:SourceAccount': this.account },
          ArnLike: { 'aws:SourceArn': this.#arnOf('*') },
        },
      }),
    });
  }

  readonly #arnOf = (resource: string) =>
    `arn:${this.partition}:iot:${this.region}:${this.account}:${resource}`;
}

/**
 * Leaves in place what things and certificates hang on, which no stack made and none takes away: AWS IoT Core refuses to
 * delete a policy that is attached (API Reference, "DeletePolicy": DeleteConflictException), and a type of things within five
 * minutes of its being deprecated ("DeleteThingType"). The stack could not be taken down.
 */
function keep(resource: CfnResource): void {
  resource.applyRemovalPolicy(RemovalPolicy.RETAIN);
}
