import { Validations } from 'aws-cdk-lib';
import type { IConstruct } from 'constructs';

/** A rule of cdk-nag is set aside without saying why. */
export class ReasonError extends Error {
  override readonly name = 'ReasonError';
}

/** Shorter than this nothing is explained, letters. */
const LEAST = 20;

/**
 * Sets a rule of cdk-nag aside for a construct and what is within it.
 *
 * @param rule as in its report, such as `SQS3` or `IAM5[Resource::*]`
 * @param reason one line
 * @throws ReasonError if there is none
 */
export function accept(construct: IConstruct, rule: string, reason: string): void {
  if (reason.trim().length < LEAST || reason.includes('\n'))
    throw new ReasonError(`${construct.node.path}: say in one line why ${rule} is set aside here`);
  Validations.of(construct).acknowledge({ id: `AwsSolutions-${rule}`, reason });
}
