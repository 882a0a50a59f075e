import { stringify } from 'csv-stringify/sync';
import type { RegionMonth } from './regionMonths.ts';

/** The columns of salt.csv in their order, and the decimals that each is written with. */
const DECIMALS: Readonly<Record<keyof RegionMonth, number | undefined>> = {
  region: undefined,
  month: undefined,
  units_reporting: 0,
  unit_days: 0,
  unit_days_missing: 0,
  regenerations: 0,
  water_treated_gal: 1,
  salt_used_lb: 2,
  salt_measured_share: 4,
  salt_inferred_share: 4,
  regeneration_water_gal: 1,
  grains_removed: 0,
  grains_per_lb: 1,
  chloride_lb: 2,
};

/** Writes region months as RFC 4180 CSV; a ratio that does not exist is left empty. */
export function saltCsv(rows: readonly RegionMonth[]): string {
  return stringify([...rows], {
    header: true,
    columns: Object.keys(DECIMALS),
    record_delimiter: 'windows',
    cast: {
      number: (value, { column }) =>
        String(Number(value.toFixed(DECIMALS[column as keyof RegionMonth] ?? 0))),
    },
  });
}
