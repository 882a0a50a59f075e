import type { CfnTable } from 'aws-cdk-lib/aws-glue';
import type { CatalogueView } from './catalogue.ts';

/**
 * A view as Amazon Athena keeps its own in the catalogue: the query in JSON in base64 in a comment. The form is that of
 * Presto (`com.facebook.presto.hive.HiveUtil`, `encodeViewData`), from memory, unverified.
 */
export function prestoView(
  { sql, columns }: Omit<CatalogueView, 'name'>,
  schema: string,
): Omit<CfnTable.TableInputProperty, 'name'> {
  const view = {
    originalSql: sql,
    catalog: 'awsdatacatalog',
    schema,
    // Presto calls a text otherwise than Hive does.
    columns: columns.map(({ name, type }) => ({ name, type: type === 'string' ? 'varchar' : type })),
  };
  return {
    tableType: 'VIRTUAL_VIEW',
    parameters: { presto_view: 'true', comment: 'Presto View' },
    partitionKeys: [],
    storageDescriptor: { columns: [...columns] },
    viewOriginalText: `/* Presto View: ${Buffer.from(JSON.stringify(view)).toString('base64')} */`,
    viewExpandedText: '/* Presto View */',
  };
}
