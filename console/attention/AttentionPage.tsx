import { useNavigate, useSearch } from '@tanstack/react-router';
import { type ReactNode, useDeferredValue, useEffect, useMemo, useRef, useState } from 'react';
import { Empty } from '../app/Empty.tsx';
import { ErrorState } from '../app/ErrorPage.tsx';
import { PageHead } from '../app/PageHead.tsx';
import { Progress } from '../app/Progress.tsx';
import { whole } from '../show/amounts.ts';
import { useLikings } from '../show/Likings.tsx';
import styles from './AttentionPage.module.css';
import { Filters } from './Filters.tsx';
import { type Filter, filterOf, matching } from './filter.ts';
import { PlannedContext } from './Planned.ts';
import { Rows } from './Rows.tsx';
import type { Row } from './rows.ts';
import { useAttention } from './useAttention.ts';
import { usePlanned } from './usePlanned.ts';

const TITLE = 'Needs attention';
/** The address follows the filter so long after the last key, milliseconds. */
const SETTLED_MS = 400;
const NONE: readonly Row[] = [];

/** What a dispatcher works through: one row a unit, the worst first. */
export function Page() {
  const { data: rows = NONE, error, isPending, isFetching, refetch } = useAttention();
  const planned = usePlanned();
  const [filter, setFilter] = useFilter();
  // Typing comes first: the rows follow when there is time.
  const wanted = useDeferredValue(filter);
  const found = useMemo(() => matching(rows, wanted, planned), [rows, wanted, planned]);
  if (isPending || (error && rows.length === 0)) {
    return (
      <>
        <PageHead title={TITLE} />
        {error ? (
          <ErrorState error={error} retry={() => void refetch()} />
        ) : (
          <Progress what="Reading the list" />
        )}
      </>
    );
  }
  return (
    <PlannedContext value={planned}>
      <PageHead title={TITLE}>
        {rows.length > 0 && (
          <Count found={found.length} all={rows.length}>
            {Object.keys(filter).length > 0 && (
              <button type="button" className={styles.plain} onClick={() => setFilter({})}>
                Clear the filters
              </button>
            )}
          </Count>
        )}
      </PageHead>
      {rows.length === 0 && !isFetching ? (
        <Empty title="Nothing needs attention">
          <p>
            No unit has an open alert. A unit comes up here when what its meter reports points to trouble: no
            flow, a regeneration without salt, salt running low, and so on.
          </p>
        </Empty>
      ) : (
        <>
          <Filters rows={rows} filter={filter} onChange={setFilter} />
          {found.length > 0 ? (
            <Rows rows={found} />
          ) : (
            <Empty title="No unit fits">
              <p>{rows.length} units need attention, but none of them fits the search and the filters.</p>
              <button type="button" className={styles.plain} onClick={() => setFilter({})}>
                Show all of them
              </button>
            </Empty>
          )}
        </>
      )}
    </PlannedContext>
  );
}

function Count({ found, all, children }: { found: number; all: number; children: ReactNode }) {
  const likings = useLikings();
  const units = `${whole(all, likings)} ${all === 1 ? 'unit' : 'units'}`;
  return (
    <div className={styles.count}>
      <p className="soft numbers" aria-live="polite">
        {found < all ? `${whole(found, likings)} of ${units}` : all > 1 ? `${units}, the worst first` : units}
      </p>
      {children}
    </div>
  );
}

/** The filter of the address, followed by it: whoever goes to a unit and back finds the list as it was. */
function useFilter(): [Filter, (filter: Filter) => void] {
  const navigate = useNavigate();
  const search = useSearch({ strict: false });
  const address = JSON.stringify(filterOf(search));
  const [filter, setFilter] = useState(() => filterOf(search));
  /** What the address was last known to say. */
  const told = useRef(address);
  useEffect(() => {
    // Somebody followed a link to the list itself.
    if (address === told.current) return;
    told.current = address;
    setFilter(JSON.parse(address));
  }, [address]);
  useEffect(() => {
    const wanted = JSON.stringify(filter);
    if (wanted === told.current) return;
    const timer = setTimeout(() => {
      // Whoever is on the way to another page is not called back.
      if (window.location.pathname !== '/') return;
      told.current = wanted;
      void navigate({ to: '/', search: { ...filter }, replace: true, resetScroll: false });
    }, SETTLED_MS);
    return () => clearTimeout(timer);
  }, [filter, navigate]);
  return [filter, setFilter];
}
