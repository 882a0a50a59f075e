import { ENVIRONMENT } from '../../../infra/aws/environment.ts';
import { QUEUE_NAMES, QUEUES } from '../../../infra/topology.ts';

export const PUBLIC_URL = 'https://console.brinebell.example/';
export const BUCKET = 'archive';

/**
 * What the stacks tell functions, all of it to each.
 *
 * @param urlOf the URL of a queue by its name
 */
export function functionEnvironment(
  tableName: string,
  urlOf: (queue: string) => string,
): Readonly<Record<string, string>> {
  return {
    [ENVIRONMENT.table]: tableName,
    [ENVIRONMENT.bucket]: BUCKET,
    [ENVIRONMENT.catalogue]: 'brinebell_small',
    [ENVIRONMENT.trials]: 'arn:aws:states:us-east-2:123456789012:stateMachine:brinebell-small-trials',
    [ENVIRONMENT.claimTemplate]: 'brinebell-small-meters',
    [ENVIRONMENT.answerKey]: 'the-answer-key',
    [ENVIRONMENT.operatorKey]: 'the-operator-key',
    [ENVIRONMENT.publicUrl]: PUBLIC_URL,
    [ENVIRONMENT.mailFrom]: 'Brinebell <alerts@brinebell.example>',
    [ENVIRONMENT.issuer]: 'https://cognito-idp.us-east-2.amazonaws.com/us-east-2_ABC123',
    [ENVIRONMENT.client]: '1example23456789',
    ...Object.fromEntries(
      QUEUE_NAMES.flatMap((name) => {
        const queue = QUEUES[name].fifo ? `${name}.fifo` : name;
        return [
          [ENVIRONMENT.queue(name), urlOf(queue)],
          [ENVIRONMENT.deadLetters(name), urlOf(`dead-${queue}`)],
        ];
      }),
    ),
  };
}
