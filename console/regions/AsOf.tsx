import { messageOf } from '../app/failure.ts';
import { moment } from '../show/dates.ts';
import { useLikings } from '../show/Likings.tsx';
import type { Accounts } from './months.ts';
import styles from './RegionsPage.module.css';

/** Accounts older than this were not worked out for whoever asks, but in the night before. Milliseconds. */
const FRESH_MS = 2 * 3_600_000;

interface AsOfProps {
  readonly accounts: Accounts;
  /** The service's clock, milliseconds since 1970. */
  readonly now: number;
  /** Why the accounts could not be asked for again, if so. */
  readonly error: unknown;
}

/** When the accounts were worked out, and what is not in them yet. */
export function AsOf({ accounts, now, error }: AsOfProps) {
  const likings = useLikings();
  const asOf = lastOf(accounts);
  if (asOf === undefined) return null;
  return (
    <p className={styles.intro}>
      Worked out at{' '}
      <time dateTime={new Date(asOf).toISOString()}>{moment(asOf, { ...likings, named: true })}</time>, by the
      facts known until then.
      {now - asOf > FRESH_MS &&
        ' These are the accounts of last night: what was reported since comes into those of the next night.'}
      {error !== null && (
        <span role="status" className={styles.stale}>
          {' '}
          They could not be asked for again: {messageOf(error)}
        </span>
      )}
    </p>
  );
}

/** Milliseconds since 1970. */
function lastOf({ regions }: Accounts): number | undefined {
  const all = regions.flatMap(({ months }) => months.map(({ asOf }) => Date.parse(asOf)));
  return all.length > 0 ? all.reduce((last, each) => Math.max(last, each)) : undefined;
}
