import { useQuery } from '@tanstack/react-query';
import type { AttentionRow } from '../../api/types.ts';
import { useServiceNow } from '../../api/useServiceNow.ts';
import { Empty } from '../../app/Empty.tsx';
import { ErrorState } from '../../app/ErrorPage.tsx';
import { Progress } from '../../app/Progress.tsx';
import { DataTable } from '../../show/DataTable.tsx';
import { dateAt, day, daysBetween } from '../../show/dates.ts';
import { type Likings, useLikings } from '../../show/Likings.tsx';
import { UnitLink } from '../../show/UnitLink.tsx';
import { days, plain } from '../../show/words.ts';
import styles from '../care.module.css';
import { silentQuery } from './query.ts';

/** Units of which nothing is heard. */
export function Silent() {
  const likings = useLikings();
  const now = useServiceNow();
  const { data: rows, error, refetch } = useQuery(silentQuery);
  if (!rows) {
    return error ? (
      <ErrorState error={error} retry={() => void refetch()} />
    ) : (
      <Progress what="Looking for silent meters" />
    );
  }
  if (rows.length === 0) {
    return (
      <Empty title="All meters are heard">
        <p>No unit has been silent for so long that an alert was raised. There is nothing to do.</p>
      </Empty>
    );
  }
  return (
    <>
      <p className={`soft ${styles.intro}`}>
        See whether the meter has power and a connection. Until it reports again nothing is known of its salt
        and its hardness.
      </p>
      <DataTable
        caption={`${rows.length === 1 ? '1 unit' : `${rows.length} units`}, the longest silent first`}
        columns={[
          {
            header: 'Site',
            cell: ({ unitId, siteName, siteId }) => (
              <UnitLink unitId={unitId}>
                <bdi>{siteName ?? siteId}</bdi>
              </UnitLink>
            ),
          },
          { header: 'Unit', cell: ({ unitId }) => <bdi>{unitId}</bdi> },
          { header: 'Region', cell: ({ region }) => plain(region) },
          { header: 'Last report', cell: (row) => lastWords(row, now, likings) },
        ]}
        rows={rows}
        keyOf={({ unitId }) => unitId}
      />
    </>
  );
}

function lastWords({ lastReported, timeZone }: AttentionRow, now: number, { locale }: Likings): string {
  if (lastReported === null) return 'Never';
  const today = dateAt(now, timeZone);
  return `${day(lastReported, locale, today)}, ${days(daysBetween(lastReported, today))} ago`;
}
