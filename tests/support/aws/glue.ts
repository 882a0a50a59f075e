import * as z from 'zod';
import { jsonService, type LocalService } from './server.ts';

const partitionSchema = z.object({
  DatabaseName: z.string(),
  TableName: z.string(),
  PartitionInputList: z.array(z.object({ Values: z.array(z.string()) })),
});

/** The catalogue of AWS Glue, as far as those see it who tell it of partitions. */
export async function localGlue(): Promise<LocalService & { readonly partitions: Set<string> }> {
  const partitions = new Set<string>();
  const service = await jsonService('AWSGlue', {
    BatchCreatePartition(input) {
      const { DatabaseName, TableName, PartitionInputList } = partitionSchema.parse(input);
      const Errors = PartitionInputList.flatMap(({ Values }) => {
        const name = [DatabaseName, TableName, ...Values].join('/');
        if (!partitions.has(name)) {
          partitions.add(name);
          return [];
        }
        return [{ PartitionValues: Values, ErrorDetail: { ErrorCode: 'AlreadyExistsException' } }];
      });
      return { Errors };
    },
  });
  return { ...service, partitions };
}
