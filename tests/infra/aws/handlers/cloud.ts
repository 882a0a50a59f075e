import { type FunctionName, QUEUES, type QueueName } from '../../../../infra/topology.ts';
import { localGlue } from '../../../support/aws/glue.ts';
import { localIot } from '../../../support/aws/iot.ts';
import { localS3 } from '../../../support/aws/s3.ts';
import { localSecrets } from '../../../support/aws/secretsManager.ts';
import { localSes } from '../../../support/aws/ses.ts';
import { localSns } from '../../../support/aws/sns.ts';
import { type Kept, localSqs } from '../../../support/aws/sqs.ts';
import { localSteps } from '../../../support/aws/stepFunctions.ts';
import { bundles } from '../../../support/lambda/bundles.ts';
import { BUCKET, functionEnvironment } from '../../../support/lambda/environment.ts';
import { sqsEvent } from '../../../support/lambda/events.ts';
import { type Lambda, startLambda } from '../../../support/lambda/lambda.ts';
import { testTable } from '../../../support/table.ts';

export const OPERATOR_SECRET = 'only-the-operator-knows';

/**
 * The bundled functions on what stands in for AWS on this machine: a table of an emulator, and services that speak the
 * protocols of Amazon's as far as ours ask them.
 */
export async function startCloud(...names: readonly FunctionName[]) {
  const [built, table, sqs, ses, sns, s3, glue, steps, iot, secrets] = await Promise.all([
    bundles(...names),
    testTable(),
    localSqs(),
    localSes(),
    localSns(),
    localS3(BUCKET),
    localGlue(),
    localSteps(),
    localIot(),
    localSecrets({ 'the-operator-key': OPERATOR_SECRET, 'the-answer-key': 'only-we-sign-with-it\n' }),
  ]);
  const started: Lambda[] = [];
  const nameOf = (queue: QueueName) => (QUEUES[queue].fifo ? `${queue}.fifo` : queue);
  const env = {
    DYNAMODB_ENDPOINT: table.endpoint,
    AWS_ENDPOINT_URL_SQS: sqs.endpoint,
    AWS_ENDPOINT_URL_SESV2: ses.endpoint,
    AWS_ENDPOINT_URL_SNS: sns.endpoint,
    AWS_ENDPOINT_URL_S3: s3.endpoint,
    AWS_ENDPOINT_URL_GLUE: glue.endpoint,
    AWS_ENDPOINT_URL_SFN: steps.endpoint,
    AWS_ENDPOINT_URL_IOT: iot.endpoint,
    AWS_ENDPOINT_URL_SECRETS_MANAGER: secrets.endpoint,
    ...functionEnvironment(table.tableName, sqs.urlOf),
  };
  return {
    table,
    store: table.store,
    sqs,
    ses,
    sns,
    s3,
    glue,
    steps,
    iot,
    secrets,
    /** A function in a fresh process. */
    async start(name: FunctionName, over: Readonly<Record<string, string>> = {}): Promise<Lambda> {
      const lambda = await startLambda(name, built.pathOf(name), { ...env, ...over });
      started.push(lambda);
      return lambda;
    },
    /** Takes all messages out of a queue. */
    take(queue: QueueName): Kept[] {
      return sqs.queues.get(nameOf(queue))?.splice(0) ?? [];
    },
    async stop() {
      await Promise.all(started.map((lambda) => lambda.stop()));
      await Promise.all(
        [table, sqs, ses, sns, s3, glue, steps, iot, secrets].map((service) => service.close()),
      );
      await built.remove();
    },
  };
}

export type Cloud = Awaited<ReturnType<typeof startCloud>>;

/** Messages as the queue would hand them to its function. */
export function handedOut(messages: readonly Kept[], sentAt = Date.now()) {
  return sqsEvent(messages.map(({ id, body, group }) => ({ id, body, group, sentAt })));
}
