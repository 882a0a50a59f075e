import { SQSClient } from '@aws-sdk/client-sqs';
import { once } from '../../../shared/once.ts';
import { CLIENT_OPTIONS } from './clientOptions.ts';

/** One for all queues of a process, so that they share connections; made when something is first sent. */
export const sqs = once(() => new SQSClient(CLIENT_OPTIONS));
