import { BatchCreatePartitionCommand, type GlueClient, type PartitionInput } from '@aws-sdk/client-glue';
import { CATALOGUE_TABLES, PARQUET_STORAGE } from '../../../lib/archive/catalogue.ts';
import type { ArchiveFiles } from '../../../lib/archive/files.ts';
import { folderOf, type Partition, partitionOf } from '../../../lib/archive/partition.ts';
import { TABLES } from '../../../lib/archive/tables.ts';

/** Thrown where the catalogue does not take a partition. What was put is put, and may be put again. */
class CatalogueError extends Error {
  readonly code = 'catalogue-failed';
}

export interface CatalogueOptions {
  readonly client: GlueClient;
  /** The database of the catalogue. */
  readonly database: string;
  /** The bucket in which the files are. */
  readonly bucket: string;
}

/**
 * Files of which each new partition is told to the catalogue of SQL, before `put` returns: what is put and not told would
 * be seen by nobody. One that is there already is no matter, and is asked about once a process.
 */
export function registeredFiles(files: ArchiveFiles, options: CatalogueOptions): ArchiveFiles {
  const known = new Set<string>();
  return {
    ...files,
    async put(path, content) {
      await files.put(path, content);
      const found = partitionOf(path);
      if (!found) return;
      const folder = folderOf(found.table, found.partition);
      if (known.has(folder)) return;
      await register(TABLES[found.table].name, partitionInput(folder, found.partition, options), options);
      known.add(folder);
    },
  };
}

async function register(TableName: string, input: PartitionInput, options: CatalogueOptions): Promise<void> {
  const { Errors = [] } = await options.client.send(
    new BatchCreatePartitionCommand({
      ...{ DatabaseName: options.database, TableName, PartitionInputList: [input] },
    }),
  );
  // The code is the name of the exception that CreatePartition throws ("ErrorDetail", AWS Glue web API reference).
  const failed = Errors.find(({ ErrorDetail }) => ErrorDetail?.ErrorCode !== 'AlreadyExistsException');
  if (!failed) return;
  throw new CatalogueError(
    `${TableName} ${input.Values?.join(', ')}: ${failed.ErrorDetail?.ErrorMessage}; putting the file again tries again`,
  );
}

/** A partition of its own columns and place: the catalogue takes none of that from the table. */
function partitionInput(
  folder: string,
  { companyId, region, month }: Partition,
  { bucket }: CatalogueOptions,
): PartitionInput {
  const table = CATALOGUE_TABLES.find(({ prefix }) => folder.startsWith(prefix));
  const { inputFormat, outputFormat, serializationLibrary } = PARQUET_STORAGE;
  return {
    Values: [companyId, region, month],
    StorageDescriptor: {
      Location: `s3://${bucket}/${folder}`,
      Columns: table?.columns.map(({ name, type }) => ({ Name: name, Type: type })),
      InputFormat: inputFormat,
      OutputFormat: outputFormat,
      SerdeInfo: { SerializationLibrary: serializationLibrary },
    },
  };
}
