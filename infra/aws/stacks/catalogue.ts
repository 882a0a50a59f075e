import { Duration, RemovalPolicy, Stack, type StackProps } from 'aws-cdk-lib';
import { CfnWorkGroup } from 'aws-cdk-lib/aws-athena';
import { CfnDatabase, CfnTable } from 'aws-cdk-lib/aws-glue';
import type { Key } from 'aws-cdk-lib/aws-kms';
import { BucketEncryption, type IBucket } from 'aws-cdk-lib/aws-s3';
import type { Construct } from 'constructs';
import type { Folder } from '../../topology.ts';
import type { Stage } from '../stages.ts';
import { catalogueName } from './catalogueName.ts';
import { newBucket } from './newBucket.ts';
import { prestoView } from './prestoView.ts';

export interface CatalogueColumn {
  readonly name: string;
  /** As Athena has it, such as `double` or `timestamp`. */
  readonly type: string;
}

/** Parquet files of a folder, in subfolders `name=value` for each column that they are partitioned by. */
export interface CatalogueTable {
  readonly name: string;
  readonly folder: Folder;
  readonly columns: readonly CatalogueColumn[];
  readonly partitions: readonly CatalogueColumn[];
}

export interface CatalogueView {
  readonly name: string;
  readonly sql: string;
  /** What its query gives, in order. */
  readonly columns: readonly CatalogueColumn[];
}

export interface Catalogue {
  readonly tables: readonly CatalogueTable[];
  readonly views: readonly CatalogueView[];
}

interface CatalogueProps extends StackProps {
  readonly stage: Stage;
  readonly catalogue: Catalogue;
  readonly bucket: IBucket;
  readonly accessLogs: IBucket;
  readonly key: Key;
}

/** An answer is fetched when it is asked for. */
const RESULT_DAYS = 7;

/** The archive as tables for SQL, and the workgroup that asks them. */
export class CatalogueStack extends Stack {
  constructor(scope: Construct, id: string, props: CatalogueProps) {
    super(scope, id, props);
    const { stage, catalogue, bucket, accessLogs, key } = props;
    const databaseName = catalogueName(stage);
    const database = new CfnDatabase(this, 'Database', {
      catalogId: this.account,
      databaseInput: { name: databaseName, description: 'Brinebell: facts and month accounts' },
    });
    const add = (name: string, tableInput: Omit<CfnTable.TableInputProperty, 'name'>) => {
      const table = new CfnTable(this, `Table-${name}`, {
        catalogId: this.account,
        databaseName,
        tableInput: { name, ...tableInput },
      });
      table.addDependency(database);
    };
    for (const { name, ...table } of catalogue.tables) add(name, parquetTable(table, bucket));
    for (const { name, ...view } of catalogue.views) add(name, prestoView(view, databaseName));
    const results = newBucket(this, 'Results', {
      encryption: BucketEncryption.KMS,
      encryptionKey: key,
      bucketKeyEnabled: true,
      serverAccessLogsBucket: accessLogs,
      serverAccessLogsPrefix: 'results/',
      lifecycleRules: [
        {
          expiration: Duration.days(RESULT_DAYS),
          abortIncompleteMultipartUploadAfter: Duration.days(1),
        },
      ],
      removalPolicy: RemovalPolicy.RETAIN,
    });
    new CfnWorkGroup(this, 'Workgroup', {
      name: `brinebell-${stage.name}`,
      // What was asked, and by whom, goes with the stack.
      recursiveDeleteOption: true,
      workGroupConfiguration: {
        enforceWorkGroupConfiguration: true,
        publishCloudWatchMetricsEnabled: true,
        bytesScannedCutoffPerQuery: stage.queryBytes,
        resultConfiguration: {
          outputLocation: `s3://${results.bucketName}/`,
          encryptionConfiguration: { encryptionOption: 'SSE_KMS', kmsKey: key.keyArn },
        },
      },
    });
  }
}

/** Apache Hive's names for Parquet; AWS Glue knows no shorter way to say it. */
function parquetTable(
  { folder, columns, partitions }: Omit<CatalogueTable, 'name'>,
  bucket: IBucket,
): Omit<CfnTable.TableInputProperty, 'name'> {
  return {
    tableType: 'EXTERNAL_TABLE',
    parameters: { classification: 'parquet', EXTERNAL: 'TRUE' },
    partitionKeys: [...partitions],
    storageDescriptor: {
      columns: [...columns],
      location: `s3://${bucket.bucketName}/${folder}/`,
      inputFormat: 'org.apache.hadoop.hive.ql.io.parquet.MapredParquetInputFormat',
      outputFormat: 'org.apache.hadoop.hive.ql.io.parquet.MapredParquetOutputFormat',
      serdeInfo: { serializationLibrary: 'org.apache.hadoop.hive.ql.io.parquet.serde.ParquetHiveSerDe' },
    },
  };
}
