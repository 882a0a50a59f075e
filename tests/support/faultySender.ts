import {
  BatchWriteItemCommand,
  type BatchWriteItemCommandInput,
  DynamoDBServiceException,
  ProvisionedThroughputExceededException,
} from '@aws-sdk/client-dynamodb';
import type { Sender } from '../../lib/store/sender.ts';
import type { Faults } from './faultyStore.ts';

/**
 * Stands before a client of DynamoDB, and does to its commands what a table far away does: throttles them, loses the
 * request or the answer, fails by its own fault, does them long after they were given up, leaves items of a batch.
 */
export function faultySender(client: Sender, faults: Faults, counted: { faults: number }): Sender {
  const late: (() => Promise<unknown>)[] = [];
  return {
    async send(command) {
      while (late.length > 0 && faults.uniform() < 0.3)
        await late
          .shift()?.()
          .catch(() => {});
      if (faults.uniform() >= faults.share) return client.send(command);
      counted.faults += 1;
      switch (Math.floor(faults.uniform() * 6)) {
        case 0:
          throw new ProvisionedThroughputExceededException({ message: 'no more for now', $metadata: {} });
        case 1:
          throw new Error('socket hang up');
        case 2:
          await client.send(command);
          throw new Error('read ECONNRESET');
        case 3:
          late.push(() => client.send(command));
          throw new Error('timed out');
        case 4:
          throw new DynamoDBServiceException({
            ...{ name: 'InternalServerError', $fault: 'server', message: 'a fault of theirs' },
            $metadata: { httpStatusCode: 500 },
          });
        default:
          return leaveSome(command, () => client.send(command));
      }
    },
  };

  /** Takes some items out of a batch, and hands them back as left. */
  async function leaveSome<Output>(
    command: { input: unknown },
    send: () => Promise<Output>,
  ): Promise<Output> {
    if (!(command instanceof BatchWriteItemCommand)) return send();
    const input: BatchWriteItemCommandInput = command.input;
    const [[table = '', requests = []] = []] = Object.entries(input.RequestItems ?? {});
    const taken = requests.filter(() => faults.uniform() < 0.5);
    const left = requests.filter((request) => !taken.includes(request));
    // A batch of nothing is refused; the first is always taken.
    const first = taken.length > 0 ? taken : left.splice(0, 1);
    command.input.RequestItems = { [table]: first };
    const output = await send();
    return left.length > 0 ? { ...output, UnprocessedItems: { [table]: left } } : output;
  }
}
