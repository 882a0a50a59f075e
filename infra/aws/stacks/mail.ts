import { Stack, type StackProps } from 'aws-cdk-lib';
import { EmailIdentity, Identity } from 'aws-cdk-lib/aws-ses';
import type { Construct } from 'constructs';

/** The address that mail to people comes from. Amazon SES writes to it once, to see that it is ours. */
export class MailStack extends Stack {
  readonly identityArn: string;

  constructor(scope: Construct, id: string, { from, ...props }: StackProps & { readonly from: string }) {
    super(scope, id, props);
    const identity = new EmailIdentity(this, 'From', { identity: Identity.email(from) });
    this.identityArn = identity.emailIdentityArn;
  }
}
