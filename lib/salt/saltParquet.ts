import { parquetWriteBuffer } from 'hyparquet-writer';
import { keysOf } from '../../shared/records.ts';
import type { RegionMonth } from './regionMonths.ts';

type Column = keyof RegionMonth;

/** The columns of salt.parquet, named as those of salt.csv, with their types. */
const TYPES = {
  region: 'STRING',
  month: 'STRING',
  units_reporting: 'INT32',
  unit_days: 'INT32',
  unit_days_missing: 'INT32',
  regenerations: 'INT32',
  water_treated_gal: 'DOUBLE',
  salt_used_lb: 'DOUBLE',
  salt_measured_share: 'DOUBLE',
  salt_inferred_share: 'DOUBLE',
  regeneration_water_gal: 'DOUBLE',
  grains_removed: 'DOUBLE',
  grains_per_lb: 'DOUBLE',
  chloride_lb: 'DOUBLE',
} as const satisfies Record<Column, string>;

/** Writes region months as Apache Parquet, not rounded; a ratio that does not exist is null. */
export function saltParquet(rows: readonly RegionMonth[]): ArrayBuffer {
  const columnData = keysOf(TYPES).map((name) => ({
    name,
    data: rows.map((row) => row[name]),
    type: TYPES[name],
    nullable: name.endsWith('_share') || name === 'grains_per_lb',
  }));
  return parquetWriteBuffer({ columnData });
}
