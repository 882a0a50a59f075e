import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import * as z from 'zod';
import { consoleHeaders } from '../../../console/csp.ts';
import { PAGE_FUNCTION } from '../../../infra/aws/stacks/pageFunction.ts';
import { API_PATHS } from '../../../infra/aws/stacks/paths.ts';
import { STAGES } from '../../../infra/aws/stages.ts';
import { synthAll } from './synthed.ts';

describe.each(synthAll())('%s: what has an address', (name, { templates, stage }) => {
  const isNamed = name.endsWith('everything');
  const routes = (api: 'People' | 'Machines') =>
    Object.fromEntries(
      templates
        .ofType('AWS::ApiGatewayV2::Route')
        .filter(({ stack, Properties }) => templates.told(stack, Properties.ApiId) === `<Front/${api}/Api>`)
        .map(({ Properties: { RouteKey, AuthorizationType } }) => [RouteKey, AuthorizationType]),
    );

  it('asks people for a token on /v1/{proxy+} and nowhere else, and machines nowhere', () => {
    expect(routes('People')).toEqual({
      'ANY /v1/{proxy+}': 'JWT',
      'GET /v1/sign-in': 'NONE',
      'ANY /answer/{proxy+}': 'NONE',
      'GET /health': 'NONE',
      'GET /openapi.json': 'NONE',
    });
    expect(new Set(Object.values(routes('Machines')))).toEqual(new Set(['NONE']));
    expect(Object.keys(routes('Machines')).sort()).toEqual(Object.keys(routes('People')).sort());
  });

  it('believes tokens of its own pool, made out for the console, and no others', () => {
    const { stack, Properties } = templates.only('AWS::ApiGatewayV2::Authorizer');
    const { Issuer, Audience } = z
      .object({ Issuer: z.unknown(), Audience: z.tuple([z.unknown()]) })
      .parse(Properties.JwtConfiguration);
    expect(Properties.AuthorizerType).toBe('JWT');
    expect(templates.told(stack, Issuer)).toBe(
      'https://cognito-idp.<AWS::Region>.amazonaws.com/<Identity/People>',
    );
    expect(templates.told(stack, Audience[0])).toBe('<Front/Client>');
  });

  it('lets both APIs be asked so often and no more, and writes no path into their logs', () => {
    const stages = templates.ofType('AWS::ApiGatewayV2::Stage');
    expect(stages.length).toBe(2);
    for (const { path, Properties } of stages) {
      const { rate, burst } = STAGES[stage][path === 'Front/People/Stage' ? 'people' : 'machines'];
      expect(Properties.DefaultRouteSettings).toMatchObject({
        ThrottlingRateLimit: rate,
        ThrottlingBurstLimit: burst,
      });
      const { Format } = z.object({ Format: z.string() }).parse(Properties.AccessLogSettings);
      expect(Format).toContain('$context.routeKey');
      expect(Format).not.toMatch(/\$context\.(path|rawPath|protocol\w*path)/i);
    }
  });

  it('remembers no error of the API: one person’s refusal is not the next one’s', () => {
    const { CustomErrorResponses, DefaultCacheBehavior, CacheBehaviors } = z
      .object({
        CustomErrorResponses: z.array(z.unknown()),
        DefaultCacheBehavior: z.unknown(),
        CacheBehaviors: z.array(z.object({ CachePolicyId: z.string(), OriginRequestPolicyId: z.string() })),
      })
      .parse(templates.only('AWS::CloudFront::Distribution').Properties.DistributionConfig);
    // CloudFormation, `ErrorCode` of a custom error response: these and 416, which CloudFront never remembers.
    expect(CustomErrorResponses).toEqual(
      [400, 403, 404, 405, 414, 500, 501, 502, 503, 504].map((ErrorCode) => ({
        ErrorCode,
        ErrorCachingMinTTL: 0,
      })),
    );
    expect(JSON.stringify(DefaultCacheBehavior)).not.toContain('OriginRequestPolicyId');
    // CloudFront Developer Guide, "Use managed cache policies", "... origin request policies": nothing is remembered, and all
    // but `Host` is handed on, `Authorization` and the query too.
    for (const { CachePolicyId, OriginRequestPolicyId } of CacheBehaviors)
      expect([CachePolicyId, OriginRequestPolicyId]).toEqual([
        '4135ea2d-6df8-44a3-9df3-4b5a84be39ad',
        'b689b0a8-53d0-40ab-baf2-68738e2966ac',
      ]);
  });

  it('signs people in with code and PKCE, which needs no secret, and back to the console', () => {
    const { stack, Properties } = templates.only('AWS::Cognito::UserPoolClient');
    const url = isNamed ? 'https://water.example.com' : 'https://<Front/Distribution.DomainName>';
    expect(Properties).toMatchObject({
      GenerateSecret: false,
      AllowedOAuthFlows: ['code'],
      AllowedOAuthScopes: ['openid', 'email', 'profile'],
      PreventUserExistenceErrors: 'ENABLED',
    });
    const told = (urls: unknown) =>
      z
        .array(z.unknown())
        .parse(urls)
        .map((each) => templates.told(stack, each));
    expect(told(Properties.CallbackURLs)).toEqual([`${url}/signed-in`]);
    const pool = templates.only('AWS::Cognito::UserPool').Properties;
    expect(pool).toMatchObject({
      AdminCreateUserConfig: { AllowAdminCreateUserOnly: true },
      MfaConfiguration: 'ON',
      EnabledMfas: ['SOFTWARE_TOKEN_MFA'],
    });
    expect('LambdaConfig' in pool).toBe(true);
  });

  it('serves the console from a bucket that nobody else reads, with the headers of console/csp.ts', () => {
    const { Properties } = templates.only('AWS::CloudFront::ResponseHeadersPolicy');
    const { stack } = templates.only('AWS::CloudFront::ResponseHeadersPolicy');
    const config = headersSchema.parse(Properties.ResponseHeadersPolicyConfig);
    const security = config.SecurityHeadersConfig;
    const sent = {
      'content-security-policy': templates.told(stack, security.ContentSecurityPolicy.ContentSecurityPolicy),
      'x-content-type-options': security.ContentTypeOptions.Override ? 'nosniff' : '',
      'referrer-policy': security.ReferrerPolicy.ReferrerPolicy,
      ...Object.fromEntries(config.CustomHeadersConfig.Items.map(({ Header, Value }) => [Header, Value])),
    };
    const connect = [
      'https://cognito-idp.<AWS::Region>.amazonaws.com',
      'https://<Identity/People/Domain>.auth.<AWS::Region>.amazoncognito.com',
    ];
    expect(sent).toEqual(consoleHeaders({ connect }));
  });

  it('puts API and console behind one name, with TLS 1.2, and asks the API each time', () => {
    const { DistributionConfig } = templates.only('AWS::CloudFront::Distribution').Properties;
    const config = distributionSchema.parse(DistributionConfig);
    expect(config.DefaultCacheBehavior.ViewerProtocolPolicy).toBe('redirect-to-https');
    expect(config.CacheBehaviors.map(({ PathPattern }) => PathPattern)).toEqual(
      API_PATHS.flatMap(({ pattern }) => pattern ?? []),
    );
    for (const behaviour of config.CacheBehaviors) {
      expect(behaviour.ViewerProtocolPolicy).toBe('https-only');
      // CloudFront Developer Guide, "Use managed cache policies": CachingDisabled; "… origin request policies": AllViewerExceptHostHeader.
      expect(behaviour.CachePolicyId).toBe('4135ea2d-6df8-44a3-9df3-4b5a84be39ad');
      expect(behaviour.OriginRequestPolicyId).toBe('b689b0a8-53d0-40ab-baf2-68738e2966ac');
    }
    expect(config.Aliases).toEqual(isNamed ? ['water.example.com'] : undefined);
    expect(config.ViewerCertificate?.MinimumProtocolVersion).toBe(isNamed ? 'TLSv1.2_2021' : undefined);
  });

  it('leads to the API for every path that it describes', () => {
    expect(pathsOfTheApi().filter((path) => !API_PATHS.some(({ route }) => leadsTo(route, path)))).toEqual(
      [],
    );
  });
});

it('serves the one page for every page of the console, and files as they are', () => {
  const handler: unknown = new Function(`${PAGE_FUNCTION}; return handler;`)();
  if (typeof handler !== 'function') throw new Error('no handler');
  const asked = (uri: string) => handler({ request: { uri } }).uri;
  for (const page of [
    '/',
    '/units/u-17',
    '/units/u.17',
    '/units/u-17/visits/v.1/brief',
    '/signed-in',
    '/assets',
  ])
    expect([page, asked(page)]).toEqual([page, '/index.html']);
  for (const file of ['/index.html', '/sw.js', '/mark.svg', '/assets/main-1a2b.js', '/assets/no-dot'])
    expect(asked(file)).toBe(file);
});

const headersSchema = z.object({
  SecurityHeadersConfig: z.object({
    ContentSecurityPolicy: z.object({ ContentSecurityPolicy: z.unknown(), Override: z.literal(true) }),
    ContentTypeOptions: z.object({ Override: z.boolean() }),
    ReferrerPolicy: z.object({ ReferrerPolicy: z.string(), Override: z.literal(true) }),
    StrictTransportSecurity: z.object({ AccessControlMaxAgeSec: z.number().min(31_536_000) }),
  }),
  CustomHeadersConfig: z.object({
    Items: z.array(z.object({ Header: z.string(), Value: z.string(), Override: z.literal(true) })),
  }),
});

const distributionSchema = z.object({
  Aliases: z.array(z.string()).optional(),
  DefaultCacheBehavior: z.object({ ViewerProtocolPolicy: z.string() }),
  CacheBehaviors: z.array(
    z.object({
      ...{ PathPattern: z.string(), ViewerProtocolPolicy: z.string() },
      ...{ CachePolicyId: z.string(), OriginRequestPolicyId: z.string() },
    }),
  ),
  ViewerCertificate: z.object({ MinimumProtocolVersion: z.string() }).optional(),
});

/** The paths of all routes, from the sources; `/metrics` is only where one process can count for all. */
function pathsOfTheApi(): string[] {
  const folder = fileURLToPath(new URL('../../../functions/api', import.meta.url));
  const paths = readdirSync(folder)
    .map((file) => readFileSync(join(folder, file), 'utf8'))
    .flatMap((source) => [...source.matchAll(/(?:path: |app\.(?:get|post)\()'(\/[^']*)'/g)])
    .flatMap(([, path]) => path ?? []);
  expect(paths.length).toBeGreaterThan(40);
  return paths.filter((path) => path !== '/metrics');
}

function leadsTo(route: string, path: string): boolean {
  const [, pattern = ''] = route.split(' ');
  return pattern.endsWith('{proxy+}') ? path.startsWith(pattern.replace('{proxy+}', '')) : path === pattern;
}
