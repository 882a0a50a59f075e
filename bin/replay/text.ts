/** Lines are made to fit this many columns. */
const COLUMNS = 100;
const GAP = '  ';

type Side = 'left' | 'right';

/** Rows of cells as aligned columns, each on the side that is said; indented. */
export function table(rows: readonly (readonly string[])[], sides: readonly Side[]): string {
  const widths = sides.map((_, column) => Math.max(...rows.map((row) => (row[column] ?? '').length)));
  return rows
    .map((row) =>
      sides
        .map((side, column) => {
          const cell = row[column] ?? '';
          return side === 'left' ? cell.padEnd(widths[column] ?? 0) : cell.padStart(widths[column] ?? 0);
        })
        .join(GAP),
    )
    .map((line) => `${GAP}${line}`.trimEnd())
    .join('\n');
}

/** A text broken into lines that fit, each indented by so many columns. */
export function paragraph(text: string, indent: number): string {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/\s+/)) {
    if (line !== '' && indent + line.length + 1 + word.length > COLUMNS) {
      lines.push(line);
      line = '';
    }
    line = line === '' ? word : `${line} ${word}`;
  }
  lines.push(line);
  return lines.map((each) => `${' '.repeat(indent)}${each}`).join('\n');
}
