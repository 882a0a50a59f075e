import { RemovalPolicy, Stack } from 'aws-cdk-lib';
import { CfnApi, CfnStage } from 'aws-cdk-lib/aws-apigatewayv2';
import { LogGroup } from 'aws-cdk-lib/aws-logs';
import { Construct } from 'constructs';
import type { Stage, Throttle } from '../stages.ts';

interface HttpApiProps {
  readonly stage: Stage;
  readonly description: string;
  readonly throttle: Throttle;
}

/**
 * What is noted of a request: the route, never the path, which may hold what a household answers with. API Gateway
 * Developer Guide, "Customize HTTP API access logs".
 */
const LOGGED = [
  ...['requestId', 'identity.sourceIp', 'requestTime', 'routeKey', 'status', 'responseLength'],
  ...['responseLatency', 'integrationErrorMessage', 'authorizer.error'],
];

/** An HTTP API with nothing behind it yet: its address is known before what answers there. */
export class HttpApi extends Construct {
  readonly api: CfnApi;

  constructor(scope: Construct, id: string, { stage, description, throttle }: HttpApiProps) {
    super(scope, id);
    this.api = new CfnApi(this, 'Api', {
      name: `brinebell-${stage.name}-${id.toLowerCase()}`,
      description,
      protocolType: 'HTTP',
    });
    const log = new LogGroup(this, 'AccessLog', {
      retention: stage.logDays,
      removalPolicy: RemovalPolicy.DESTROY,
    });
    new CfnStage(this, 'Stage', {
      apiId: this.api.ref,
      stageName: '$default',
      autoDeploy: true,
      accessLogSettings: {
        destinationArn: log.logGroupArn,
        format: JSON.stringify(Object.fromEntries(LOGGED.map((name) => [name, `$context.${name}`]))),
      },
      defaultRouteSettings: {
        throttlingRateLimit: throttle.rate,
        throttlingBurstLimit: throttle.burst,
      },
    });
  }

  get hostname(): string {
    const { region, urlSuffix } = Stack.of(this);
    return `${this.api.ref}.execute-api.${region}.${urlSuffix}`;
  }
}
