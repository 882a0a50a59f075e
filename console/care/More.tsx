import { Button } from '@mantine/core';
import { messageOf } from '../app/failure.ts';
import styles from './care.module.css';

interface MoreProps {
  readonly hasMore: boolean;
  readonly isReading: boolean;
  /** What went wrong with the last page that was asked for. */
  readonly error: unknown;
  readonly onMore: () => void;
}

/** Asks for the next page of a list. */
export function More({ hasMore, isReading, error, onMore }: MoreProps) {
  if (!hasMore) return null;
  return (
    <div className={styles.more}>
      {error !== null && error !== undefined && <p role="alert">{messageOf(error)}</p>}
      <Button variant="default" loading={isReading} onClick={onMore}>
        Show more
      </Button>
    </div>
  );
}
