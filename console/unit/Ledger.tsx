import { useVirtualizer } from '@tanstack/react-virtual';
import { useMemo, useRef } from 'react';
import { unitOf } from '../show/amounts.ts';
import { useLikings } from '../show/Likings.tsx';
import { Scrolls } from '../show/Scrolls.tsx';
import styles from './Ledger.module.css';
import { LedgerRow } from './LedgerRow.tsx';
import type { Timeline } from './timeline.ts';

const ROW_PX = 33;

/** The days of the range as a book, the latest first. Only the rows within sight are in the page. */
export function Ledger({ timeline }: { timeline: Timeline }) {
  const likings = useLikings();
  const ref = useRef<HTMLDivElement>(null);
  const days = useMemo(
    () =>
      timeline.days.filter(({ isAhead, regenerations }) => !isAhead || regenerations.length > 0).toReversed(),
    [timeline],
  );
  const virtualizer = useVirtualizer({
    count: days.length,
    getScrollElement: () => ref.current,
    estimateSize: () => ROW_PX,
    overscan: 12,
  });
  const items = virtualizer.getVirtualItems();
  const before = items[0]?.start ?? 0;
  const after = virtualizer.getTotalSize() - (items.at(-1)?.end ?? 0);
  const volume = unitOf('gallons', likings);
  return (
    <section aria-labelledby="ledger">
      <h2 id="ledger">Ledger</h2>
      <Scrolls ref={ref} className={styles.scroll} name="Ledger, day by day">
        <table className={styles.ledger} aria-rowcount={days.length + 1}>
          <thead>
            <tr aria-rowindex={1}>
              <th scope="col">Day</th>
              <th scope="col" className={styles.number}>
                Use, {volume}
              </th>
              <th scope="col" className={styles.number}>
                Truly left, {volume}
              </th>
              <th scope="col" className={styles.number}>
                Control believes, {volume}
              </th>
              <th scope="col">Regeneration</th>
              <th scope="col">Salt</th>
            </tr>
          </thead>
          <tbody>
            {before > 0 && <Gap height={before} />}
            {items.map(({ index }) => {
              const day = days[index];
              return day && <LedgerRow key={day.date} day={day} timeline={timeline} index={index + 2} />;
            })}
            {after > 0 && <Gap height={after} />}
          </tbody>
        </table>
      </Scrolls>
    </section>
  );
}

/** Rows that are out of sight, as one. */
function Gap({ height }: { height: number }) {
  return (
    <tr>
      <td colSpan={6} style={{ height, padding: 0, border: 0 }} />
    </tr>
  );
}
