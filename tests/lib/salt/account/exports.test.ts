import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DuckDBInstance } from '@duckdb/node-api';
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { accountsCsv } from '../../../../lib/salt/account/accountsCsv.ts';
import type { AccountCells, AccountsFile } from '../../../../lib/salt/account/accountsFile.ts';
import { accountsParquet } from '../../../../lib/salt/account/accountsParquet.ts';
import { SALT_ACCOUNT_COLUMNS } from '../../../../lib/salt/account/columns.ts';
import { CompanyAccounts } from '../../../../lib/salt/account/companyAccounts.ts';
import { SaltAccounts } from '../../../../lib/salt/account/saltAccounts.ts';
import { sharedCells } from '../../../../lib/salt/account/shared.ts';
import type { KnownMonths } from '../../../../lib/salt/knownMonths.ts';
import { rulesSchema } from '../../../../lib/watch/rules.ts';
import { fleets, LATER } from './fleetOfMonths.ts';

const RULES = rulesSchema.parse({}).salt;

function fileOf(fleet: readonly KnownMonths[]): AccountsFile {
  const accounts = new CompanyAccounts(LATER, RULES);
  for (const known of fleet) accounts.add(known);
  return accounts.file();
}

/** Both forms of the accounts of a fleet. */
function formsOf(fleet: readonly KnownMonths[]): { items: readonly AccountCells[]; isShared: boolean }[] {
  const file = fileOf(fleet);
  return [
    { items: file.items, isShared: false },
    { items: sharedCells(file), isShared: true },
  ];
}

it('have a column for each member of an account', () => {
  fc.assert(
    fc.property(fleets, (fleet) => {
      const accounts = new SaltAccounts(LATER, RULES);
      for (const known of fleet) accounts.add(known);
      const members = new Set<string>(SALT_ACCOUNT_COLUMNS.map(({ member }) => member));
      for (const account of accounts.accounts()) expect(new Set(Object.keys(account))).toEqual(members);
    }),
    { numRuns: 5 },
  );
});

it('are read back from CSV to the decimals that the dictionary says, what is not there as nothing', () => {
  fc.assert(
    fc.property(fleets, (fleet) => {
      for (const { items, isShared } of formsOf(fleet)) {
        const csv = accountsCsv(items, { isShared });
        // RFC 4180: lines end with CRLF, and so does the last.
        expect(csv.split('\r\n')).toHaveLength(items.length + 2);
        expect(csv.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
        const rows = parse<Record<string, string>>(csv, { columns: true });
        rows.forEach((row, index) => {
          for (const { name, decimals = 0 } of SALT_ACCOUNT_COLUMNS) {
            const cell = items[index]?.[name] ?? null;
            if (typeof cell !== 'number') expect([name, row[name]]).toEqual([name, cell ?? '']);
            else
              expect(Math.abs(Number(row[name]) - cell), name).toBeLessThanOrEqual(0.5001 * 10 ** -decimals);
          }
          expect(row.suppressed).toBe(isShared ? (items[index]?.suppressed ?? '') : undefined);
        });
      }
    }),
    { numRuns: 40 },
  );
});

it('are read back from Parquet by DuckDB as they are', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'brinebell-accounts-'));
  const instance = await DuckDBInstance.create(':memory:');
  const connection = await instance.connect();
  try {
    await fc.assert(
      fc.asyncProperty(fleets, async (fleet) => {
        for (const { items, isShared } of formsOf(fleet)) {
          const path = join(folder, 'accounts.parquet');
          await writeFile(path, accountsParquet(items, { isShared }));
          const reader = await connection.runAndReadAll(
            `select * exclude (as_of), epoch_ms(as_of)::double as as_of from read_parquet('${path}')`,
          );
          const wanted = items.map((cells) => ({ ...cells, as_of: LATER }));
          expect(reader.getRowObjectsJson()).toEqual(wanted);
        }
      }),
      { numRuns: 15 },
    );
  } finally {
    connection.closeSync();
    instance.closeSync();
    await rm(folder, { recursive: true });
  }
});
