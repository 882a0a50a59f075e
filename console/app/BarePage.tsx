import { type ReactNode, useEffect } from 'react';
import styles from './BarePage.module.css';

/** A page without navigation: nobody has signed in, or it is not known who. */
export function BarePage({ title, children }: { title: string; children: ReactNode }) {
  useEffect(() => {
    document.title = `${title} · Brinebell`;
  }, [title]);
  return (
    <main className={styles.page}>
      <img src="/mark.svg" alt="" width="40" height="40" />
      <h1>{title}</h1>
      {children}
    </main>
  );
}
