import { Duration } from 'aws-cdk-lib';
import {
  HeadersFrameOption,
  HeadersReferrerPolicy,
  ResponseHeadersPolicy,
  type ResponseHeadersPolicyProps,
} from 'aws-cdk-lib/aws-cloudfront';
import type { Construct } from 'constructs';
import { consoleHeaders } from '../../../console/csp.ts';

/** The console sends a header that Amazon CloudFront has a place of its own for, and we do not know it. */
class HeaderError extends Error {
  override readonly name = 'HeaderError';
}

const YEAR = Duration.days(365);

/**
 * The headers of console/csp.ts, and that the name is to be asked by TLS only. Those of security have places of their
 * own: CloudFront refuses them among the others (CloudFront Developer Guide, "Understand response headers policies").
 */
export function pageHeaders(scope: Construct, id: string, connect: readonly string[]): ResponseHeadersPolicy {
  const {
    'content-security-policy': contentSecurityPolicy = '',
    'x-content-type-options': typeOptions,
    'referrer-policy': referrer,
    ...others
  } = consoleHeaders({ connect });
  const referrerPolicy = Object.values(HeadersReferrerPolicy).find((policy) => policy === referrer);
  if (typeOptions !== 'nosniff' || !referrerPolicy)
    throw new HeaderError(
      'console/csp.ts has a header that infra/aws/stacks/headers.ts does not know: add it there',
    );
  const security: ResponseHeadersPolicyProps['securityHeadersBehavior'] = {
    contentSecurityPolicy: { contentSecurityPolicy, override: true },
    contentTypeOptions: { override: true },
    referrerPolicy: { referrerPolicy, override: true },
    strictTransportSecurity: { accessControlMaxAge: YEAR, includeSubdomains: true, override: true },
    frameOptions: { frameOption: HeadersFrameOption.DENY, override: true },
  };
  return new ResponseHeadersPolicy(scope, id, {
    securityHeadersBehavior: security,
    customHeadersBehavior: {
      customHeaders: Object.entries(others).map(([header, value]) => ({ header, value, override: true })),
    },
  });
}
