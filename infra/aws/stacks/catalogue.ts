import { Duration, RemovalPolicy, Stack, type StackProps } from 'aws-cdk-lib';
import { CfnWorkGroup } from 'aws-cdk-lib/aws-athena';
import { CfnDatabase, CfnTable } from 'aws-cdk-lib/aws-glue';
import type { Key } from 'aws-cdk-lib/aws-kms';
import { BucketEncryption, type IBucket } from 'aws-cdk-lib/aws-s3';
import type { Construct } from 'constructs';
import type { CatalogueTable, CatalogueView, PARQUET_STORAGE } from '../../../lib/archive/catalogue.ts';
import type { Stage } from '../stages.ts';
import { catalogueName } from './catalogueName.ts';
import { newBucket } from './newBucket.ts';

/** The archive as SQL sees it: what lib/archive says of it. */
export interface Catalogue {
  readonly tables: readonly CatalogueTable[];
  readonly views: readonly CatalogueView[];
  /** How its files are read and written, in the words of Hive. */
  readonly storage: typeof PARQUET_STORAGE;
  viewText(name: string, database: string): string;
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
    const add = (tableInput: CfnTable.TableInputProperty & { name: string }) => {
      const table = new CfnTable(this, `Table-${tableInput.name}`, {
        catalogId: this.account,
        databaseName,
        tableInput,
      });
      table.addResourceDependency(database);
    };
    const { inputFormat, outputFormat, serializationLibrary } = catalogue.storage;
    for (const { prefix, columns, partitionKeys, ...table } of catalogue.tables) {
      add({
        ...table,
        tableType: 'EXTERNAL_TABLE',
        partitionKeys: [...partitionKeys],
        storageDescriptor: {
          columns: [...columns],
          location: `s3://${bucket.bucketName}/${prefix}`,
          inputFormat,
          outputFormat,
          serdeInfo: { serializationLibrary },
        },
      });
    }
    for (const { columns, ...view } of catalogue.views) {
      const viewOriginalText = catalogue.viewText(view.name, databaseName);
      // Athena reads a view's description as a table's, of which this must be there, if empty (as others write it:
      // stackoverflow.com/a/56347331, github.com/iconara/terraform-aws-athena-view).
      const storageDescriptor = { columns: [...columns], serdeInfo: {} };
      add({ ...view, partitionKeys: [], storageDescriptor, viewOriginalText });
    }
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
