import { Duration, RemovalPolicy, Stack, type StackProps } from 'aws-cdk-lib';
import { Certificate } from 'aws-cdk-lib/aws-certificatemanager';
import {
  AllowedMethods,
  type BehaviorOptions,
  CachePolicy,
  Distribution,
  Function as EdgeFunction,
  FunctionCode,
  FunctionEventType,
  FunctionRuntime,
  HttpVersion,
  OriginRequestPolicy,
  SecurityPolicyProtocol,
  ViewerProtocolPolicy,
} from 'aws-cdk-lib/aws-cloudfront';
import { HttpOrigin, S3BucketOrigin } from 'aws-cdk-lib/aws-cloudfront-origins';
import { OAuthScope, UserPoolClient, UserPoolClientIdentityProvider } from 'aws-cdk-lib/aws-cognito';
import { BucketEncryption, type IBucket } from 'aws-cdk-lib/aws-s3';
import type { Construct } from 'constructs';
import { accept } from '../accept.ts';
import type { Stage } from '../stages.ts';
import { ConsoleFiles } from './consoleFiles.ts';
import { pageHeaders } from './headers.ts';
import { HttpApi } from './httpApi.ts';
import type { IdentityStack } from './identity.ts';
import { newBucket } from './newBucket.ts';
import { PAGE_FUNCTION } from './pageFunction.ts';
import { API_PATHS } from './paths.ts';

interface FrontProps extends StackProps {
  readonly stage: Stage;
  readonly identity: IdentityStack;
  readonly accessLogs: IBucket;
  readonly edgeLogs: IBucket;
  readonly bundles: string;
  readonly domain?: string | undefined;
  readonly certificateArn?: string | undefined;
}

/**
 * Errors that Amazon CloudFront remembers for ten seconds by itself, whatever the cache policy and the header say, and by the
 * path alone: what one person may not see would be refused to the next one too, in words meant for the first (CloudFront
 * Developer Guide, "Control how long CloudFront caches errors", "HTTP 4xx and 5xx status codes that CloudFront caches").
 */
const CACHED_ERRORS = [400, 403, 404, 405, 414, 500, 501, 502, 503, 504];

/**
 * What has an address: the console, with the API for people behind the same name, and the API for machines. It comes
 * before the functions, which put the address into what they send; `routes.ts` then leads from here to them.
 */
export class FrontStack extends Stack {
  readonly people: HttpApi;
  readonly machines: HttpApi;
  readonly client: UserPoolClient;
  readonly publicUrl: string;

  constructor(scope: Construct, id: string, props: FrontProps) {
    super(scope, id, props);
    const { stage, identity, bundles, domain } = props;
    this.people = new HttpApi(this, 'People', {
      ...{ stage, throttle: stage.people, description: 'Brinebell for people, behind the console' },
    });
    this.machines = new HttpApi(this, 'Machines', {
      ...{
        stage,
        throttle: stage.machines,
        description: 'Brinebell for gateways and companies’ own programs',
      },
    });
    const bucket = newBucket(this, 'Console', {
      encryption: BucketEncryption.S3_MANAGED,
      serverAccessLogsBucket: props.accessLogs,
      serverAccessLogsPrefix: 'console/',
      // Nothing but what is built from the sources: the function that puts the files takes them off again.
      removalPolicy: RemovalPolicy.DESTROY,
    });
    const distribution = this.distribute(bucket, props);
    this.publicUrl = `https://${domain ?? distribution.distributionDomainName}`;
    this.client = this.makeClient(identity);
    new ConsoleFiles(this, 'ConsoleFiles', { stage, bucket, bundles });
  }

  private distribute(
    bucket: IBucket,
    { identity, edgeLogs, domain, certificateArn }: FrontProps,
  ): Distribution {
    const api: BehaviorOptions = {
      origin: new HttpOrigin(this.people.hostname),
      viewerProtocolPolicy: ViewerProtocolPolicy.HTTPS_ONLY,
      allowedMethods: AllowedMethods.ALLOW_ALL,
      cachePolicy: CachePolicy.CACHING_DISABLED,
      originRequestPolicy: OriginRequestPolicy.ALL_VIEWER_EXCEPT_HOST_HEADER,
    };
    const pages = new EdgeFunction(this, 'Pages', {
      runtime: FunctionRuntime.JS_2_0,
      code: FunctionCode.fromInline(PAGE_FUNCTION),
    });
    const distribution = new Distribution(this, 'Distribution', {
      defaultBehavior: {
        origin: S3BucketOrigin.withOriginAccessControl(bucket),
        viewerProtocolPolicy: ViewerProtocolPolicy.REDIRECT_TO_HTTPS,
        responseHeadersPolicy: pageHeaders(this, 'Headers', [identity.provider, identity.domain.baseUrl()]),
        functionAssociations: [{ eventType: FunctionEventType.VIEWER_REQUEST, function: pages }],
      },
      additionalBehaviors: Object.fromEntries(
        API_PATHS.flatMap(({ pattern }) => (pattern === undefined ? [] : [[pattern, api]])),
      ),
      errorResponses: CACHED_ERRORS.map((httpStatus) => ({ httpStatus, ttl: Duration.seconds(0) })),
      defaultRootObject: 'index.html',
      httpVersion: HttpVersion.HTTP2_AND_3,
      enableLogging: true,
      logBucket: edgeLogs,
      logFilePrefix: 'cloudfront/',
      ...(domain !== undefined &&
        certificateArn !== undefined && {
          domainNames: [domain],
          minimumProtocolVersion: SecurityPolicyProtocol.TLS_V1_2_2021,
          certificate: Certificate.fromCertificateArn(this, 'Certificate', certificateArn),
        }),
    });
    accept(
      distribution,
      'CFR1',
      'People work from wherever they are; who may see what is judged for each request.',
    );
    accept(
      distribution,
      'CFR2',
      'Throttles stand on both APIs and pages are static: a firewall costs more than the rest.',
    );
    if (domain === undefined)
      accept(
        distribution,
        'CFR4',
        'CloudFront’s own certificate allows no other choice; domain and certificateArn do.',
      );
    return distribution;
  }

  /** The console at the provider: code flow with PKCE, which a program in the browser can keep no secret for. */
  private makeClient({ pool }: IdentityStack): UserPoolClient {
    return new UserPoolClient(this, 'Client', {
      userPool: pool,
      generateSecret: false,
      authFlows: {},
      oAuth: {
        flows: { authorizationCodeGrant: true },
        scopes: [OAuthScope.OPENID, OAuthScope.EMAIL, OAuthScope.PROFILE],
        callbackUrls: [`${this.publicUrl}/signed-in`],
        logoutUrls: [`${this.publicUrl}/`],
      },
      supportedIdentityProviders: [UserPoolClientIdentityProvider.COGNITO],
      preventUserExistenceErrors: true,
      enableTokenRevocation: true,
    });
  }
}
