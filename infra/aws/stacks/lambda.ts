import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { Duration, RemovalPolicy } from 'aws-cdk-lib';
import { type PolicyStatement, Role, ServicePrincipal } from 'aws-cdk-lib/aws-iam';
import { Architecture, Code, Function as LambdaFunction, Runtime, Tracing } from 'aws-cdk-lib/aws-lambda';
import { LogGroup } from 'aws-cdk-lib/aws-logs';
import { Construct } from 'constructs';
import type { Stage } from '../stages.ts';
import { allow } from './statements.ts';

/** A function's bundle is not there. */
export class BundleError extends Error {
  override readonly name = 'BundleError';
}

export interface LambdaProps {
  readonly stage: Stage;
  /** The folder with a folder of bundled code for each function. */
  readonly bundles: string;
  /** Its folder there. */
  readonly bundle: string;
  readonly timeoutSeconds: number;
  readonly environment: Readonly<Record<string, string>>;
  /** What it may do beside writing its log and its traces. */
  readonly statements: readonly PolicyStatement[];
}

/** The newest Node.js with long-term support that AWS Lambda has; the others of its kind are named odd, or older. */
const RUNTIME = Runtime.NODEJS_24_X;

/** A function with a role and a log of its own, which may do what it is given and no more. */
export class Lambda extends Construct {
  readonly function: LambdaFunction;

  /** @throws BundleError if it is not bundled */
  constructor(scope: Construct, id: string, props: LambdaProps) {
    super(scope, id);
    const { stage, bundles, bundle, timeoutSeconds, environment, statements } = props;
    const path = join(bundles, bundle);
    if (!existsSync(join(path, 'index.mjs')))
      throw new BundleError(`${path}/index.mjs is not there: run node infra/aws/bundle.js first`);
    const logGroup = new LogGroup(this, 'Log', {
      retention: stage.logDays,
      removalPolicy: RemovalPolicy.DESTROY,
    });
    const role = new Role(this, 'Role', { assumedBy: new ServicePrincipal('lambda.amazonaws.com') });
    role.addToPolicy(allow(['logs:CreateLogStream', 'logs:PutLogEvents'], [logGroup.logGroupArn]));
    for (const statement of statements) role.addToPolicy(statement);
    const reserved = stage.reserved[bundle];
    this.function = new LambdaFunction(this, 'Function', {
      runtime: RUNTIME,
      architecture: Architecture.ARM_64,
      code: Code.fromAsset(path),
      handler: 'index.handler',
      timeout: Duration.seconds(timeoutSeconds),
      memorySize: stage.memoryMb,
      environment: { ...environment },
      tracing: Tracing.ACTIVE,
      role,
      logGroup,
      ...(reserved !== undefined && { reservedConcurrentExecutions: reserved }),
    });
  }
}
