import { useMediaQuery } from '@mantine/hooks';
import { useTable } from '@tanstack/react-table';
import { useWindowVirtualizer } from '@tanstack/react-virtual';
import { useLayoutEffect, useMemo, useRef, useState } from 'react';
import { OpenActsProvider } from './acts/OpenActs.tsx';
import { columns, features } from './columns.tsx';
import styles from './Rows.module.css';
import type { Row } from './rows.ts';
import { useRowKeys } from './useRowKeys.ts';

/** About how tall a row and a card are, pixels; each is measured when it is shown. */
const ROW_PX = 150;
const CARD_PX = 330;
const NARROW = '(max-width: 60rem)';
const rowSize = () => ROW_PX;
const cardSize = () => CARD_PX;
/** Between cards; rows touch. */
const GAP_PX = 12;

/** The rows of the list. Only those within sight are in the page, and only they are given to the table. */
export function Rows({ rows }: { rows: readonly Row[] }) {
  const ref = useRef<HTMLDivElement>(null);
  const [top, setTop] = useState(0);
  const isNarrow = useMediaQuery(NARROW, undefined, { getInitialValueInEffect: false });
  // biome-ignore lint/correctness/useExhaustiveDependencies: what stands above moves when the rows change.
  useLayoutEffect(() => {
    const box = ref.current?.getBoundingClientRect();
    if (box) setTop(box.top + window.scrollY);
  }, [rows]);
  const virtualizer = useWindowVirtualizer({
    count: rows.length,
    // Both are made anew only when the width says so: what is measured of 100,000 rows is kept between renderings.
    estimateSize: isNarrow ? cardSize : rowSize,
    gap: isNarrow ? GAP_PX : 0,
    overscan: 6,
    scrollMargin: top,
  });
  const items = virtualizer.getVirtualItems();
  const first = items[0]?.index ?? 0;
  const last = items.at(-1)?.index ?? -1;
  const seen = useMemo(() => rows.slice(first, last + 1), [rows, first, last]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: a row that has moved is measured again at its new place.
  useLayoutEffect(() => {
    for (const row of ref.current?.querySelectorAll<HTMLElement>('[data-index]') ?? [])
      virtualizer.measureElement(row);
  }, [seen]);
  const table = useTable({ features, columns, data: seen, getRowId: ({ unitId }) => unitId });
  const onKeyDown = useRowKeys(ref, rows, (index) => virtualizer.scrollToIndex(index));
  return (
    <OpenActsProvider>
      <div role="table" aria-label="Units that need attention" aria-rowcount={rows.length + 1}>
        <div role="rowgroup" className={styles.head}>
          <div role="row" aria-rowindex={1} className={styles.row}>
            {table.getHeaderGroups().flatMap(({ headers }) =>
              headers.map((header) => (
                <span role="columnheader" key={header.id}>
                  <table.FlexRender header={header} />
                </span>
              )),
            )}
          </div>
        </div>
        <div
          ref={ref}
          role="rowgroup"
          className={styles.rows}
          style={{ height: virtualizer.getTotalSize() }}
          onKeyDown={onKeyDown}
        >
          {table.getRowModel().rows.map((row, index) => (
            <div
              role="row"
              key={row.id}
              ref={virtualizer.measureElement}
              data-index={first + index}
              aria-rowindex={first + index + 2}
              className={`${styles.row} ${styles.placed}`}
              style={{ transform: `translateY(${(items[index]?.start ?? 0) - top}px)` }}
            >
              {row.getAllCells().map((cell) => (
                <div role="cell" key={cell.id} className={styles.cell} data-column={cell.column.id}>
                  <table.FlexRender cell={cell} />
                </div>
              ))}
            </div>
          ))}
        </div>
      </div>
      <p className={`soft small ${styles.keys}`}>
        In the list: ↑ and ↓ go from unit to unit, Enter opens its story, A lists the acts.
      </p>
    </OpenActsProvider>
  );
}
