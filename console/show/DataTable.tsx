import type { ReactNode } from 'react';
import styles from './DataTable.module.css';
import { Scrolls } from './Scrolls.tsx';

export interface Column<Row> {
  readonly header: string;
  /** In what the numbers of the column are; it stands in the header, not behind each number. */
  readonly unit?: string | undefined;
  readonly isNumber?: boolean;
  /** Short words that belong on one line, such as an id. */
  readonly isTight?: boolean;
  readonly cell: (row: Row) => ReactNode;
}

interface DataTableProps<Row> {
  /** What the table is of; screen readers read it first. */
  readonly caption: ReactNode;
  /** The first names the row. */
  readonly columns: readonly Column<Row>[];
  readonly rows: readonly Row[];
  readonly keyOf: (row: Row) => string;
  /** The row of sums, at the foot. */
  readonly total?: Row | undefined;
  /** It has so many columns that it may have to be scrolled sideways; keys must reach it then, and need its name. */
  readonly wideName?: string;
}

/** A table on a wide page, a card a row on a phone. */
export function DataTable<Row>({ wideName, ...table }: DataTableProps<Row>) {
  if (wideName === undefined) {
    return (
      <div className={styles.frame}>
        <Table {...table} />
      </div>
    );
  }
  return (
    <Scrolls name={wideName} className={`${styles.frame} ${styles.wide}`}>
      <Table {...table} />
    </Scrolls>
  );
}

function Table<Row>({ caption, columns, rows, keyOf, total }: Omit<DataTableProps<Row>, 'wideName'>) {
  return (
    <table className={styles.table}>
      <caption>{caption}</caption>
      <thead>
        <tr>
          {columns.map(({ header, unit, isNumber }) => (
            <th key={header} scope="col" className={isNumber ? styles.number : undefined}>
              {header}
              {unit && <span className={styles.unit}>{unit}</span>}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <Cells key={keyOf(row)} row={row} columns={columns} />
        ))}
      </tbody>
      {total && (
        <tfoot>
          <Cells row={total} columns={columns} />
        </tfoot>
      )}
    </table>
  );
}

function Cells<Row>({ row, columns: [first, ...rest] }: { row: Row; columns: readonly Column<Row>[] }) {
  return (
    <tr>
      <th scope="row">{first?.cell(row)}</th>
      {rest.map(({ header, unit, isNumber, isTight, cell }) => (
        <td
          key={header}
          data-label={unit ? `${header}, ${unit}` : header}
          className={isNumber ? styles.number : isTight ? styles.tight : undefined}
        >
          {cell(row)}
        </td>
      ))}
    </tr>
  );
}
