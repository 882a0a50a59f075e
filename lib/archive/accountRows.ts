import type { Instant } from '../../shared/time/instant.ts';
import type { UnitMonth } from '../salt/unitMonths.ts';
import { ACCOUNT_COLUMNS, type AccountRow } from './accountColumns.ts';
import { toParquet } from './parquet.ts';

/** A file of month accounts of the units of one region and month, which added up are the region's. */
export function accountFile(units: readonly UnitMonth[], asOf: Instant): Uint8Array {
  const rows: AccountRow[] = units.map((unit) => ({ ...unit, asOf }));
  return toParquet(ACCOUNT_COLUMNS, rows);
}
