import { type ReactNode, useEffect, useId, useRef } from 'react';
import styles from './Dialog.module.css';

interface DialogProps {
  readonly title: ReactNode;
  readonly onClose: () => void;
  readonly children: ReactNode;
}

/**
 * The browser's own modal dialog, open for as long as it is rendered: it keeps the focus, closes by Escape and gives the
 * focus back to whatever had it.
 */
export function Dialog({ title, onClose, children }: DialogProps) {
  const ref = useRef<HTMLDialogElement>(null);
  const id = useId();
  useEffect(() => {
    const dialog = ref.current;
    const before = document.activeElement;
    dialog?.showModal();
    return () => {
      dialog?.close();
      if (before instanceof HTMLElement) before.focus();
    };
  }, []);
  return (
    <dialog
      ref={ref}
      className={styles.dialog}
      aria-labelledby={id}
      // The event comes a moment after the closing; by then it may have been opened again.
      onClose={({ currentTarget }) => currentTarget.open || onClose()}
    >
      <h2 id={id} className={styles.title}>
        {title}
      </h2>
      {children}
    </dialog>
  );
}

/** The row of buttons at the end of a dialog. */
export function DialogButtons({ children }: { children: ReactNode }) {
  return <div className={styles.buttons}>{children}</div>;
}
