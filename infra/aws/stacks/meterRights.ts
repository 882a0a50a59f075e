import type { Stack } from 'aws-cdk-lib';
import { PolicyStatement } from 'aws-cdk-lib/aws-iam';

/**
 * What a function holds that may do `meter-credentials`. Three of these actions take no resource, so that they stand on all
 * of them: the Service Authorization Reference of AWS IoT names none beside them.
 */
export function meterCredentialRights(stack: Stack): PolicyStatement[] {
  const certificates = stack.formatArn({ service: 'iot', resource: 'cert', resourceName: '*' });
  return [
    new PolicyStatement({ actions: ['iot:UpdateCertificate'], resources: [certificates] }),
    new PolicyStatement({
      actions: ['iot:ListThingPrincipals', 'iot:DetachThingPrincipal', 'iot:DescribeEndpoint'],
      resources: ['*'],
    }),
  ];
}
