import { CfnOutput, Stack, type StackProps } from 'aws-cdk-lib';
import { CfnAuthorizer, CfnIntegration, CfnRoute } from 'aws-cdk-lib/aws-apigatewayv2';
import { CfnPermission, type IFunction } from 'aws-cdk-lib/aws-lambda';
import type { Construct } from 'constructs';
import { accept } from '../accept.ts';
import type { FrontStack } from './front.ts';
import type { HttpApi } from './httpApi.ts';
import { API_PATHS } from './paths.ts';

interface RoutesProps extends StackProps {
  readonly front: FrontStack;
  readonly issuer: string;
  readonly api: IFunction;
}

/** Leads from both APIs to the one function that answers for them. */
export class RoutesStack extends Stack {
  constructor(scope: Construct, id: string, { front, issuer, api, ...props }: RoutesProps) {
    super(scope, id, props);
    const authorizer = new CfnAuthorizer(this, 'SignedIn', {
      apiId: front.people.api.ref,
      name: 'signed-in',
      authorizerType: 'JWT',
      identitySource: ['$request.header.Authorization'],
      // The gateway compares it with `aud` or `client_id`: API Gateway Developer Guide, "Control access with JWT authorizers".
      jwtConfiguration: { issuer, audience: [front.client.userPoolClientId] },
    });
    this.lead('People', front.people, api, authorizer);
    this.lead('Machines', front.machines, api);
    new CfnOutput(this, 'ConsoleUrl', { value: front.publicUrl });
    new CfnOutput(this, 'MachinesUrl', { value: `https://${front.machines.hostname}` });
  }

  private lead(id: string, { api }: HttpApi, to: IFunction, authorizer?: CfnAuthorizer): void {
    const integration = new CfnIntegration(this, `${id}Function`, {
      apiId: api.ref,
      integrationType: 'AWS_PROXY',
      integrationUri: to.functionArn,
      payloadFormatVersion: '2.0',
    });
    for (const { route: routeKey, signedIn } of API_PATHS) {
      const isAsked = signedIn && authorizer !== undefined;
      const route = new CfnRoute(this, `${id} ${routeKey}`, {
        apiId: api.ref,
        routeKey,
        target: `integrations/${integration.ref}`,
        authorizationType: isAsked ? 'JWT' : 'NONE',
        ...(isAsked && { authorizerId: authorizer.ref }),
      });
      if (!isAsked) accept(route, 'APIG4', signedIn ? KEYS : OPEN);
    }
    new CfnPermission(this, `${id}Permission`, {
      action: 'lambda:InvokeFunction',
      functionName: to.functionArn,
      principal: 'apigateway.amazonaws.com',
      sourceArn: this.formatArn({ service: 'execute-api', resource: api.ref, resourceName: '*/*' }),
    });
  }
}

const KEYS =
  'Callers bring a key of their company, which the function itself judges; tests walk every route.';
const OPEN =
  'Open to all by design: where to sign in, a signed link to a household, whether all is well, the API’s description.';
