import { useState } from 'react';
import styles from './care.module.css';

/** So much of a message is shown before somebody asks for the rest, characters. */
const SHOWN = 160;

/** A message as it came. It is text and nothing else: whatever a sender wrote, it is neither markup nor a link. */
export function RawMessage({ text }: { text: string }) {
  const [isAll, setAll] = useState(false);
  const isLong = text.length > SHOWN;
  return (
    <>
      <pre className={styles.raw} dir="ltr">
        {isLong && !isAll ? `${text.slice(0, SHOWN)} …` : text || '(empty)'}
      </pre>
      {isLong && (
        <button type="button" className={styles.plain} aria-expanded={isAll} onClick={() => setAll(!isAll)}>
          {isAll ? 'Show less' : `Show all ${text.length} characters`}
        </button>
      )}
    </>
  );
}
