import { type FunctionSpec, QUEUE_NAMES } from '../../topology.ts';
import { ENVIRONMENT } from '../environment.ts';
import type { Holdings } from './holdings.ts';

/** How a function is told where the things are that the topology lets it use, and of no others. */
export function variablesOf(
  { source, table, files, sendsTo, may }: FunctionSpec,
  holdings: Holdings,
): Record<string, string> {
  const { answerKeyArn, operatorKeyArn, mail, publicUrl, signIn, trials } = holdings;
  const isHttp = 'http' in source;
  const letters = may.includes('dead-letters') ? QUEUE_NAMES : [];
  const urls = [...new Set([...sendsTo, ...letters])].map((name) => [
    ENVIRONMENT.queue(name),
    holdings.queues[name].queue.queueUrl,
  ]);
  const deadUrls = letters.map((name) => [
    ENVIRONMENT.deadLetters(name),
    holdings.queues[name].dead.queueUrl,
  ]);
  return {
    ...(table !== 'none' && { [ENVIRONMENT.table]: holdings.table.name }),
    ...(files !== 'none' && { [ENVIRONMENT.bucket]: holdings.bucket.name }),
    ...Object.fromEntries([...urls, ...deadUrls]),
    ...(may.includes('answer-key') && { [ENVIRONMENT.answerKey]: answerKeyArn }),
    ...(may.includes('operator-key') && { [ENVIRONMENT.operatorKey]: operatorKeyArn }),
    // Links are in what is sent to people.
    ...((may.includes('send-mail') || may.includes('send-sms')) && { [ENVIRONMENT.publicUrl]: publicUrl }),
    ...(may.includes('send-mail') && mail && { [ENVIRONMENT.mailFrom]: mail.from }),
    ...(isHttp && { [ENVIRONMENT.issuer]: signIn.issuer, [ENVIRONMENT.client]: signIn.clientId }),
    // Who gives codes out says where they count; who judges them is called from there.
    ...(isHttp &&
      may.includes('meter-credentials') && { [ENVIRONMENT.claimTemplate]: holdings.claimTemplate }),
    ...(may.includes('register-partitions') && { [ENVIRONMENT.catalogue]: holdings.catalogue.name }),
    ...(may.includes('start-trials') && { [ENVIRONMENT.trials]: trials.machineArn }),
  };
}
