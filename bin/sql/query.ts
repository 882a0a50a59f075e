import type { DuckDBConnection, DuckDBPreparedStatement, DuckDBType, Json } from '@duckdb/node-api';
import { CommandError } from '../errors.ts';
import { sqlProblem } from './problem.ts';

export type Cell = string | number | boolean | null;

/** What a query gives, as it comes. */
export interface Answer {
  readonly names: readonly string[];
  readonly rows: AsyncIterable<readonly (readonly Cell[])[]>;
}

/** Numbers that JavaScript has no whole room for, and so come as text. */
const LONG_NUMBER = /^(U?(BIG|HUGE)INT|DECIMAL)/;
/** Digits that a double holds whatever they are. */
const EXACT_DIGITS = 15;

/**
 * Runs one `select`.
 *
 * @throws CommandError `sql-refused` if the query is wrong, or no single `select`; so may reading its rows
 */
export async function ask(connection: DuckDBConnection, sql: string): Promise<Answer> {
  const statement = await prepare(connection, sql);
  try {
    const result = await statement.stream();
    const types = result.columnTypes();
    const names = result.deduplicatedColumnNames();
    async function* rows() {
      try {
        for await (const some of result.yieldRowsJson()) {
          yield some.map((row) => row.map((value, column) => toCell(value, types[column])));
        }
      } catch (error) {
        throw sqlProblem(error, sql);
      }
    }
    return { names, rows: rows() };
  } catch (error) {
    throw sqlProblem(error, sql);
  }
}

async function prepare(connection: DuckDBConnection, sql: string): Promise<DuckDBPreparedStatement> {
  const { StatementType } = await import('@duckdb/node-api');
  try {
    const statements = await connection.extractStatements(sql);
    if (statements.count === 1) {
      const statement = await statements.prepare(0);
      if (statement.statementType === StatementType.SELECT) return statement;
    }
  } catch (error) {
    if (!isNothing(error)) throw sqlProblem(error, sql);
  }
  throw new CommandError(
    'sql-refused',
    'it is no single select',
    'The archive is only read: ask with one select at a time.',
  );
}

/** What the library says of a text without any statement, such as a comment. */
function isNothing(error: unknown): boolean {
  return error instanceof Error && error.message === 'Error in native callback';
}

/** A value for people and for JSON: times as text, and numbers as numbers where they stay what they are. */
function toCell(value: Json, type: DuckDBType | undefined): Cell {
  if (typeof value === 'string' && LONG_NUMBER.test(String(type))) {
    return value.replace(/\D/g, '').length <= EXACT_DIGITS ? Number(value) : value;
  }
  return typeof value === 'object' && value !== null ? JSON.stringify(value) : value;
}
