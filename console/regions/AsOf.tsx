import { messageOf } from '../app/failure.ts';
import { moment } from '../show/dates.ts';
import { useLikings } from '../show/Likings.tsx';
import styles from './RegionsPage.module.css';

const HOUR_MS = 3_600_000;
/** Accounts older than this were not worked out for whoever asks, but in the night before. Milliseconds. */
const FRESH_MS = HOUR_MS;
/** Nights are a day apart, and what is done in them takes a while: older ones are of another night. Milliseconds. */
const LAST_NIGHT_MS = 26 * HOUR_MS;

interface AsOfProps {
  /** What was known until then is in the accounts; RFC 3339. */
  readonly asOf: string;
  /** The service's clock, milliseconds since 1970. */
  readonly now: number;
  /** Why the accounts could not be asked for again, if so. */
  readonly error: unknown;
}

/** When the accounts were worked out, and what is not in them yet. */
export function AsOf({ asOf, now, error }: AsOfProps) {
  const likings = useLikings();
  const age = now - Date.parse(asOf);
  return (
    <>
      <p className={styles.intro}>
        Worked out on <time dateTime={asOf}>{moment(asOf, { ...likings, named: true })}</time>, by the facts
        known until then.
        {age > LAST_NIGHT_MS
          ? ' They should have been worked out anew last night, and were not: what was reported since is not in them.'
          : age > FRESH_MS &&
            ' These are the accounts of last night: what was reported since comes into those of the next.'}
      </p>
      {Boolean(error) && (
        <p role="status" className={`${styles.intro} ${styles.stale}`}>
          They could not be asked for again. {messageOf(error)}
        </p>
      )}
    </>
  );
}
