import { RemovalPolicy, Stack, type StackProps } from 'aws-cdk-lib';
import { CfnTable } from 'aws-cdk-lib/aws-dynamodb';
import type { Key } from 'aws-cdk-lib/aws-kms';
import { CfnSecret } from 'aws-cdk-lib/aws-secretsmanager';
import type { Construct } from 'constructs';
import { EXPIRY, INDEX, TABLE } from '../../../lib/store/table.ts';
import { accept } from '../accept.ts';
import type { Stage } from '../stages.ts';
import { dataKey } from './dataKey.ts';
import type { Holdings } from './holdings.ts';

interface DataProps extends StackProps {
  readonly stage: Stage;
}

/** The table with everything in it, the keys that functions know, and the key that all of it is encrypted by. */
export class DataStack extends Stack {
  readonly key: Key;
  readonly table: CfnTable;
  readonly answerKey: CfnSecret;
  readonly operatorKey: CfnSecret;

  constructor(scope: Construct, id: string, { stage, ...props }: DataProps) {
    super(scope, id, props);
    this.key = dataKey(this);
    this.table = this.makeTable(stage);
    this.answerKey = this.makeSecret('AnswerKey', 'Brinebell: signs what households are asked');
    this.operatorKey = this.makeSecret(
      'OperatorKey',
      'Brinebell: the secret in the operator’s key to the API',
    );
  }

  /**
   * The table that functions work on: the one that was made here, or one of another name that was restored from it and is
   * encrypted by the same key.
   */
  tableToUse(restored: string | undefined): Holdings['table'] {
    const name = restored ?? this.table.ref;
    const arn =
      restored === undefined
        ? this.table.attrArn
        : this.formatArn({ service: 'dynamodb', resource: 'table', resourceName: restored });
    return { name, arn, indexArn: `${arn}/index/${INDEX}` };
  }

  /** The table as lib/store makes it elsewhere, kept whatever becomes of the stack. */
  private makeTable({ restoreDays }: Stage): CfnTable {
    const keys = (schema: readonly { AttributeName: string; KeyType: string }[]) =>
      schema.map(({ AttributeName, KeyType }) => ({ attributeName: AttributeName, keyType: KeyType }));
    const table = new CfnTable(this, 'Table', {
      billingMode: TABLE.BillingMode,
      attributeDefinitions: TABLE.AttributeDefinitions.map(({ AttributeName, AttributeType }) => ({
        attributeName: AttributeName,
        attributeType: AttributeType,
      })),
      keySchema: keys(TABLE.KeySchema),
      globalSecondaryIndexes: TABLE.GlobalSecondaryIndexes.map(({ IndexName, KeySchema, Projection }) => ({
        indexName: IndexName,
        keySchema: keys(KeySchema),
        projection: { projectionType: Projection.ProjectionType },
      })),
      timeToLiveSpecification: { attributeName: EXPIRY, enabled: true },
      pointInTimeRecoverySpecification: {
        pointInTimeRecoveryEnabled: true,
        recoveryPeriodInDays: restoreDays,
      },
      sseSpecification: { sseEnabled: true, sseType: 'KMS', kmsMasterKeyId: this.key.keyArn },
      deletionProtectionEnabled: true,
    });
    table.applyRemovalPolicy(RemovalPolicy.RETAIN);
    return table;
  }

  /** A secret of 43 letters and digits, 256 random bits, made in the cloud and never seen by whoever deploys. */
  private makeSecret(id: string, description: string): CfnSecret {
    const secret = new CfnSecret(this, id, {
      description,
      kmsKeyId: this.key.keyArn,
      generateSecretString: { passwordLength: 43, excludePunctuation: true },
    });
    secret.applyRemovalPolicy(RemovalPolicy.RETAIN);
    accept(
      secret,
      'SMG4',
      'Replaced by hand as the runbook says: a new one ends every key or link made with the old.',
    );
    return secret;
  }
}
