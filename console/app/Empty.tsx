import type { ReactNode } from 'react';
import styles from './states.module.css';

/** There is nothing to show; the children say what that means, and what to do. */
export function Empty({ title, children }: { title: string; children?: ReactNode }) {
  return (
    <div className={styles.state}>
      <h2>{title}</h2>
      <div className={styles.words}>{children}</div>
    </div>
  );
}
