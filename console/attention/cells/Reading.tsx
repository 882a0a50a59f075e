import styles from './cells.module.css';

interface ReadingProps {
  /** What the column is headed with; a card on a phone has no columns and shows it. */
  readonly label: string;
  readonly value: string;
  readonly note?: string | undefined;
  /** It is bad as it stands. */
  readonly bad?: boolean;
}

/** One thing that is read off a row: the value, and a word about it beneath. */
export function Reading({ label, value, note, bad = false }: ReadingProps) {
  return (
    <>
      <span className={styles.label} aria-hidden="true">
        {label}
      </span>
      <span className={bad ? styles.bad : styles.value}>{value}</span>
      {note && <span className="soft small">{note}</span>}
    </>
  );
}
