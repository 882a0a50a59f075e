import { moment } from '../../show/dates.ts';
import { useLikings } from '../../show/Likings.tsx';
import type { Row } from '../rows.ts';
import styles from './cells.module.css';

/** Who has seen to it, and how. */
export function Handling({ row: { acknowledged, shelved, timeZone } }: { row: Row }) {
  const { locale } = useLikings();
  if (shelved) {
    return (
      <span className={styles.handling}>
        Shelved until {moment(shelved.until, { locale, timeZone })} by <bdi>{shelved.by}</bdi>
      </span>
    );
  }
  if (!acknowledged) return null;
  return (
    <span className={styles.handling}>
      Acknowledged {moment(acknowledged.at, { locale, timeZone })} by <bdi>{acknowledged.by}</bdi>
    </span>
  );
}
