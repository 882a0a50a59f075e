import { CommandError } from '../errors.ts';

/** Where in a query DuckDB points to: a line of it, and a mark under the place. */
const POINTER = /\n+LINE (\d+): (.*)\n( *)\^/;
const ADVICE = 'brinebell sql without a query lists the tables and their columns.';

/** What DuckDB says against a query, with the place in it where it says one. */
export function sqlProblem(error: unknown, sql: string): CommandError {
  const message = error instanceof Error ? error.message : String(error);
  const [, line, shown = '', indent = ''] = POINTER.exec(message) ?? [];
  if (/^IO Error: .*(No such file|No files found|Cannot open file)/.test(message)) {
    return new CommandError(
      'sql-refused',
      'files of the archive were merged while they were read',
      'Ask again.',
    );
  }
  const said = message.replace(/\n+LINE \d+:[\s\S]*$/, '');
  if (line === undefined) return new CommandError('sql-refused', said, ADVICE);
  const column = columnOf(Number(line), shown, indent.length - `LINE ${line}: `.length, sql);
  return new CommandError('sql-refused', `line ${line}, column ${column}: ${said}`, ADVICE);
}

/** The column in the query, from 1: of a long line only the middle is shown. */
function columnOf(line: number, shown: string, at: number, sql: string): number {
  if (!shown.startsWith('...')) return at + 1;
  const middle = shown.replace(/^\.\.\./, '').replace(/\.\.\.$/, '');
  const from = sql.split('\n')[line - 1]?.indexOf(middle) ?? -1;
  return Math.max(0, from) + at - '...'.length + 1;
}
