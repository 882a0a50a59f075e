import { stringify } from 'csv-stringify/sync';
import { oneLine } from '../errors.ts';
import type { Answer, Cell } from './query.ts';

/** Takes text; false once nobody reads it any more. */
export type Write = (text: string) => Promise<boolean>;

/** Rows by which the widths of a table's columns are chosen. */
const MEASURED_ROWS = 1_000;
/** The widest cell of a table: the others hold whole texts. */
const WIDEST = 60;
const GAP = '  ';
/** Digits of a number with a fraction in a table: a sum is off in the last ones of its sixteen. */
const DIGITS = 10;

/** How an answer is written, piece by piece as it comes. */
export const FORMATS = { table, csv, json } as const satisfies Record<
  string,
  (answer: Answer, write: Write) => Promise<void>
>;

/** RFC 4180; what is null is left empty. */
async function csv({ names, rows }: Answer, write: Write): Promise<void> {
  const options = { record_delimiter: 'windows', cast: { boolean: String } } as const;
  if (!(await write(stringify([[...names]], options)))) return;
  for await (const some of rows) {
    if (!(await write(stringify(some.map(copy), options)))) return;
  }
}

/** An array of objects, one a line. */
async function json({ names, rows }: Answer, write: Write): Promise<void> {
  let before = '[\n';
  for await (const some of rows) {
    if (some.length === 0) continue;
    const lines = some.map((row) =>
      JSON.stringify(Object.fromEntries(names.map((name, column) => [name, row[column]]))),
    );
    if (!(await write(before + lines.join(',\n')))) return;
    before = ',\n';
  }
  await write(before === '[\n' ? '[]\n' : '\n]\n');
}

/** Aligned columns for people; long texts are cut, and long fractions rounded. */
async function table({ names, rows }: Answer, write: Write): Promise<void> {
  let count = 0;
  let widths: number[] | undefined;
  let held: (readonly Cell[])[] = [];
  const flush = async () => {
    const header = widths === undefined;
    const cells = held.map((row) => row.map(shown));
    widths ??= names.map((name, column) =>
      Math.max(name.length, ...cells.map((row) => row[column]?.length ?? 0)),
    );
    const lines = held.map((row, index) => aligned(row, cells[index] ?? [], widths ?? []));
    held = [];
    const head = header
      ? [aligned(names, names, widths), widths.map((width) => '-'.repeat(width)).join(GAP)]
      : [];
    const text = [...head, ...lines].map((line) => `${line.trimEnd()}\n`).join('');
    return write(text);
  };
  for await (const some of rows) {
    held.push(...some);
    count += some.length;
    if (held.length >= MEASURED_ROWS && !(await flush())) return;
  }
  if ((await flush()) && count !== 1) await write(`${count} rows\n`);
}

function aligned(values: readonly Cell[], cells: readonly string[], widths: readonly number[]): string {
  return cells
    .map((cell, column) => {
      const width = widths[column] ?? 0;
      return typeof values[column] === 'number' ? cell.padStart(width) : cell.padEnd(width);
    })
    .join(GAP);
}

/** A cell on one line: what people noted may hold anything. */
function shown(value: Cell): string {
  if (value === null) return '';
  const isLong = typeof value === 'number' && Number.isFinite(value) && !Number.isInteger(value);
  const text = oneLine(String(isLong ? Number(value.toPrecision(DIGITS)) : value));
  return text.length > WIDEST ? `${text.slice(0, WIDEST - 1)}…` : text;
}

function copy(row: readonly Cell[]): Cell[] {
  return [...row];
}
