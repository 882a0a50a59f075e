import type { FigureTable } from './drawing.ts';
import styles from './Figure.module.css';

/** What a figure shows, as a table; it scrolls where it is long. */
export function FigureTableView({ title, table: { columns, rows } }: { title: string; table: FigureTable }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keys.
    <section className={styles.table} aria-label={`${title}, as a table`} tabIndex={0}>
      <table>
        <thead>
          <tr>
            {columns.map((column) => (
              <th key={column} scope="col">
                {column}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(([first = '', ...rest], row) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: two rows may be named alike, and none moves.
            <tr key={row}>
              <th scope="row">{first}</th>
              {rest.map((cell, index) => (
                // biome-ignore lint/suspicious/noArrayIndexKey: cells stand by their column.
                <td key={index}>{cell}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
