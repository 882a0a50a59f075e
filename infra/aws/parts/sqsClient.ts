import { SQSClient } from '@aws-sdk/client-sqs';
import { CLIENT_OPTIONS } from './clientOptions.ts';

/** One for all queues of a process, so that they share connections. */
export const sqs = new SQSClient(CLIENT_OPTIONS);
