import { useInfiniteQuery } from '@tanstack/react-query';
import type { ReactNode } from 'react';
import type { QuarantineReason } from '../../../shared/quarantine.ts';
import { ErrorState } from '../../app/ErrorPage.tsx';
import { Progress } from '../../app/Progress.tsx';
import { More } from '../More.tsx';
import { Messages } from './Messages.tsx';
import { quarantineQuery } from './query.ts';

interface QuarantineListProps {
  readonly reason: QuarantineReason | undefined;
  /** Shown where there is no message. */
  readonly empty: ReactNode;
}

/** Messages that were set aside, a page at a time. */
export function QuarantineList({ reason, empty }: QuarantineListProps) {
  const { data, error, hasNextPage, isFetchingNextPage, fetchNextPage, refetch } = useInfiniteQuery(
    quarantineQuery(reason),
  );
  if (!data) {
    return error ? (
      <ErrorState error={error} retry={() => void refetch()} />
    ) : (
      <Progress what="Reading what was set aside" />
    );
  }
  const messages = data.pages.flatMap(({ items }) => items);
  return (
    <>
      {messages.length > 0 && <Messages messages={messages} />}
      {messages.length === 0 && !hasNextPage && empty}
      {messages.length === 0 && hasNextPage && <p>None among the latest. There may be older ones.</p>}
      <More
        hasMore={hasNextPage}
        isReading={isFetchingNextPage}
        error={error}
        onMore={() => void fetchNextPage()}
      />
    </>
  );
}
