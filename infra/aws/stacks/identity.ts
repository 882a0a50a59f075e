import { CfnOutput, Duration, RemovalPolicy, Stack, type StackProps } from 'aws-cdk-lib';
import {
  AccountRecovery,
  FeaturePlan,
  LambdaVersion,
  Mfa,
  UserPool,
  type UserPoolDomain,
  UserPoolOperation,
} from 'aws-cdk-lib/aws-cognito';
import type { IFunction } from 'aws-cdk-lib/aws-lambda';
import type { Construct } from 'constructs';
import type { FunctionSpec } from '../../topology.ts';
import { accept } from '../accept.ts';
import { type CloudTopology, functionsOf } from '../cloudTopology.ts';
import type { Stage } from '../stages.ts';
import { Lambda } from './lambda.ts';

interface IdentityProps extends StackProps {
  readonly stage: Stage;
  readonly topology: CloudTopology;
  readonly bundles: string;
}

/** The functions of signing in come before all that they could hold a right to. */
export class TriggerError extends Error {
  override readonly name = 'TriggerError';
}

/** Who may sign in to the console, and what their tokens say of them. */
export class IdentityStack extends Stack {
  readonly pool: UserPool;
  readonly domain: UserPoolDomain;
  /** Those that are called while people sign in, by their names in the topology. */
  readonly functions: Record<string, IFunction> = {};

  constructor(scope: Construct, id: string, props: IdentityProps) {
    super(scope, id, props);
    this.pool = new UserPool(this, 'People', {
      // What somebody may do is in the table, and put there by an owner: an account alone opens nothing.
      selfSignUpEnabled: false,
      signInAliases: { email: true },
      signInCaseSensitive: false,
      autoVerify: { email: true },
      mfa: Mfa.REQUIRED,
      mfaSecondFactor: { sms: false, otp: true },
      accountRecovery: AccountRecovery.EMAIL_ONLY,
      passwordPolicy: {
        minLength: 12,
        requireLowercase: true,
        requireUppercase: true,
        requireDigits: true,
        requireSymbols: true,
        tempPasswordValidity: Duration.days(7),
      },
      // The cheapest that lets access tokens carry a mail address: Amazon Cognito pricing, feature plans.
      featurePlan: FeaturePlan.ESSENTIALS,
      deletionProtection: true,
      removalPolicy: RemovalPolicy.RETAIN,
    });
    accept(
      this.pool,
      'COG8',
      'The plus plan costs more for each person than all else here: codes from a device are asked of all.',
    );
    this.domain = this.pool.addDomain('Domain', {
      cognitoDomain: { domainPrefix: `brinebell-${props.stage.name}-${this.account}` },
    });
    // Where the operator makes people's sign-ins.
    new CfnOutput(this, 'PeoplePool', { value: this.pool.userPoolId });
    for (const [name, spec] of functionsOf(props.topology, 'signIn')) this.addTrigger(name, spec, props);
  }

  /** What tokens call their issuer: Amazon Cognito Developer Guide, "Verifying JSON web tokens". */
  get issuer(): string {
    return `${this.provider}/${this.pool.userPoolId}`;
  }

  /** Where browsers ask what the provider is. */
  get provider(): string {
    return `https://cognito-idp.${this.region}.amazonaws.com`;
  }

  private addTrigger(name: string, spec: FunctionSpec, { stage, bundles }: IdentityProps): void {
    if (spec.table !== 'none' || spec.files !== 'none' || spec.sendsTo.length > 0 || spec.may.length > 0)
      throw new TriggerError(
        `${name} is called while people sign in, and can hold no right: take its rights away`,
      );
    const { timeoutSeconds } = spec;
    const lambda = new Lambda(this, name, {
      ...{ stage, bundles, bundle: name, timeoutSeconds, environment: {}, statements: [] },
    });
    this.pool.addTrigger(UserPoolOperation.PRE_TOKEN_GENERATION_CONFIG, lambda.function, LambdaVersion.V2_0);
    this.functions[name] = lambda.function;
  }
}
