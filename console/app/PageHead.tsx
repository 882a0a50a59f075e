import { type ReactNode, useEffect, useRef } from 'react';
import styles from './PageHead.module.css';

/** Whether a page was shown before this one: only then is the focus moved. */
let isFirst = true;

/** The heading of a page. It takes the focus when the page comes up, so that a screen reader says where one is. */
export function PageHead({ title, children }: { title: string; children?: ReactNode }) {
  const ref = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    document.title = `${title} · Brinebell`;
    if (!isFirst) ref.current?.focus({ preventScroll: true });
    isFirst = false;
  }, [title]);
  return (
    <header className={styles.head}>
      <h1 ref={ref} tabIndex={-1}>
        {title}
      </h1>
      {children}
    </header>
  );
}
