import { Scrolls } from '../show/Scrolls.tsx';
import type { FigureTable } from './drawing.ts';
import styles from './Figure.module.css';

/** What a figure shows, as a table; it scrolls where it is long. */
export function FigureTableView({ title, table: { columns, rows } }: { title: string; table: FigureTable }) {
  return (
    <Scrolls name={`${title}, as a table`} className={styles.table}>
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
                <td key={columns[index + 1]}>{cell}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </Scrolls>
  );
}
