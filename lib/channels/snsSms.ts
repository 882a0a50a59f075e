import { PublishCommand, type SNSClient, SNSServiceException } from '@aws-sdk/client-sns';
import { ChannelError } from './errors.ts';
import type { SmsProvider } from './sms.ts';

/** Where a client is asked to come back later. */
const THROTTLES = new Set([
  'ThrottledException',
  'Throttling',
  'ThrottlingException',
  'KMSThrottlingException',
]);

/**
 * Short messages by Amazon SNS. It knows no idempotency key for them: a message sent twice arrives twice, word for
 * word the same.
 */
export function snsSms(client: Pick<SNSClient, 'send'>): SmsProvider {
  return {
    async send({ to, text, signal }) {
      const command = new PublishCommand({
        PhoneNumber: to,
        Message: text,
        MessageAttributes: {
          'AWS.SNS.SMS.SMSType': { DataType: 'String', StringValue: 'Transactional' },
        },
      });
      try {
        await client.send(command, { abortSignal: signal });
      } catch (error) {
        throw channelError(error);
      }
    },
  };
}

function channelError(cause: unknown): ChannelError {
  const message = cause instanceof Error ? `${cause.name}: ${cause.message}` : String(cause);
  if (!(cause instanceof SNSServiceException)) return new ChannelError('unreachable', message, { cause });
  const isThrottled = THROTTLES.has(cause.name) || cause.$metadata.httpStatusCode === 429;
  if (isThrottled) return new ChannelError('busy', message, { cause });
  return new ChannelError(cause.$fault === 'client' ? 'refused' : 'unreachable', message, { cause });
}
