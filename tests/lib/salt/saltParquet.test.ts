import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DuckDBInstance } from '@duckdb/node-api';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { RegionMonth } from '../../../lib/salt/regionMonths.ts';
import { saltParquet } from '../../../lib/salt/saltParquet.ts';

const amount = fc.double({ min: 0, max: 1e9, noNaN: true });
const count = fc.integer({ min: 0, max: 2 ** 31 - 1 });
const share = fc.option(fc.double({ min: 0, max: 1, noNaN: true }));

const row: fc.Arbitrary<RegionMonth> = fc.record({
  region: fc.stringMatching(/^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$/),
  month: fc.constantFrom('2025-12', '2026-01'),
  units_reporting: count,
  unit_days: count,
  unit_days_missing: count,
  regenerations: count,
  water_treated_gal: amount,
  salt_used_lb: amount,
  salt_measured_share: share,
  salt_inferred_share: share,
  regeneration_water_gal: amount,
  grains_removed: amount,
  grains_per_lb: fc.option(amount),
  chloride_lb: amount,
});

it('is read back by DuckDB to the same rows', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'brinebell-parquet-'));
  const instance = await DuckDBInstance.create(':memory:');
  const connection = await instance.connect();
  try {
    await fc.assert(
      fc.asyncProperty(fc.array(row, { maxLength: 30 }), async (rows) => {
        const file = join(folder, 'salt.parquet');
        await writeFile(file, new Uint8Array(saltParquet(rows)));
        const reader = await connection.runAndReadAll(`select * from read_parquet('${file}')`);
        expect(reader.getRowObjects()).toEqual(rows);
      }),
      { numRuns: 40 },
    );
  } finally {
    connection.closeSync();
    await rm(folder, { recursive: true });
  }
});
