import { useInfiniteQuery, useQuery } from '@tanstack/react-query';
import { peopleQuery } from '../../api/queries.ts';
import { Empty } from '../../app/Empty.tsx';
import { ErrorState } from '../../app/ErrorPage.tsx';
import { PageHead } from '../../app/PageHead.tsx';
import { Progress } from '../../app/Progress.tsx';
import { DataTable } from '../../show/DataTable.tsx';
import { moment } from '../../show/dates.ts';
import { useLikings } from '../../show/Likings.tsx';
import { UnitLink } from '../../show/UnitLink.tsx';
import styles from '../care.module.css';
import { More } from '../More.tsx';
import { actWords } from './actWords.ts';
import { detailWords } from './detailWords.ts';
import { type Audited, auditQuery } from './query.ts';

/** Who did what and when, the latest first. */
export function Page() {
  const { data, error, hasNextPage, isFetchingNextPage, fetchNextPage, refetch } =
    useInfiniteQuery(auditQuery);
  const acts = data?.pages.flatMap(({ items }) => items);
  return (
    <>
      <PageHead title="Audit trail" />
      <p className={`soft ${styles.intro}`}>
        Everything that people and keys of the company changed, the latest first. It cannot be changed or
        taken back here.
      </p>
      {!acts && error && <ErrorState error={error} retry={() => void refetch()} />}
      {!acts && !error && <Progress what="Reading what was done" />}
      {acts?.length === 0 && (
        <Empty title="Nobody has done anything yet">
          <p>Acknowledge an alert or plan a visit: it is written down here with who and when.</p>
        </Empty>
      )}
      {acts && acts.length > 0 && <Acts acts={acts} />}
      <More
        hasMore={hasNextPage}
        isReading={isFetchingNextPage}
        error={error}
        onMore={() => void fetchNextPage()}
      />
    </>
  );
}

function Acts({ acts }: { acts: readonly Audited[] }) {
  const likings = useLikings();
  const { data: people } = useQuery(peopleQuery);
  const nameOf = (personId: string) => people?.find((each) => each.personId === personId)?.name ?? personId;
  return (
    <DataTable
      caption={`Times are of ${likings.timeZone}.`}
      columns={[
        { header: 'What', cell: ({ what }) => <bdi>{actWords(what)}</bdi> },
        { header: 'By', cell: ({ by }) => <bdi>{by}</bdi> },
        {
          header: 'When',
          isTight: true,
          cell: ({ at }) => <time dateTime={at}>{moment(at, likings)}</time>,
        },
        {
          header: 'Unit',
          isTight: true,
          cell: ({ unitId }) => (unitId === null ? '–' : <UnitLink unitId={unitId}>{unitId}</UnitLink>),
        },
        {
          header: 'Said with it',
          cell: ({ detail }) =>
            isNothing(detail) ? '–' : <span dir="auto">{detailWords(detail, { ...likings, nameOf })}</span>,
        },
      ]}
      rows={acts}
      keyOf={({ at, by, what }) => `${at} ${by} ${what}`}
    />
  );
}

function isNothing(detail: string | null): detail is null | '' | '{}' {
  return detail === null || detail === '' || detail === '{}';
}
