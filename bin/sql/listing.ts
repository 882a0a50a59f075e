import { PARTITION_COLUMNS, TABLES } from '../../lib/archive/tables.ts';
import { VIEWS } from '../../lib/archive/views.ts';
import type { NamedColumn } from '../../lib/table/column.ts';
import { table } from '../replay/text.ts';

interface Listed {
  readonly name: string;
  readonly about: string;
  readonly columns: readonly NamedColumn[];
}

/** The views, the tables that they are made of, and the columns of each. */
export function listing(): string {
  const tables = Object.values(TABLES).map((each) => ({
    ...each,
    columns: [...PARTITION_COLUMNS, ...each.columns],
  }));
  return [...VIEWS, ...tables].map(listed).join('\n\n');
}

function listed({ name, about, columns }: Listed): string {
  const rows = columns.map((column) => [column.name, column.type, column.about]);
  return `${name}: ${about}\n${table(rows, ['left', 'left', 'left'])}`;
}
