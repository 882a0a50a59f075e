// Runs the analyst's script in DuckDB: EVENTS UNITS OUT THREADS. What comes out is written to OUT.
import { mkdirSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { DuckDBInstance } from '@duckdb/node-api';

const [, , events = '', registry = '', out = '', threads = '1'] = process.argv;
const script = readFileSync('bench/comparisons/engine/fleet.sql', 'utf8');
const paths = Object.entries({ events, registry }).map(([name, path]) => [name, resolve(path)] as const);
mkdirSync(out, { recursive: true });
process.chdir(out);

const instance = await DuckDBInstance.create(':memory:', { threads });
const connection = await instance.connect();
for (const [name, path] of paths) {
  await connection.run(`set variable ${name} = '${path.replaceAll("'", "''")}'`);
}
await connection.run(script);
connection.closeSync();
instance.closeSync();
