import { Loader } from '@mantine/core';
import styles from './states.module.css';

/** Something takes longer than a blink. `done` and `of` tell how far it is, where that is known. */
export function Progress({
  what = 'Loading',
  done,
  of,
}: {
  what?: string | undefined;
  done?: number;
  of?: number;
}) {
  return (
    <div className={styles.state} role="status">
      {done !== undefined && of !== undefined ? (
        <progress value={done} max={of} aria-label={what} />
      ) : (
        <Loader size="sm" aria-hidden="true" />
      )}
      <p className="soft">{what} …</p>
    </div>
  );
}
