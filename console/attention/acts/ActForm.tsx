import { Button } from '@mantine/core';
import type { FormEvent, ReactNode } from 'react';
import { DialogButtons } from '../../show/Dialog.tsx';
import styles from './acts.module.css';
import type { Done } from './acts.ts';
import { useAct } from './useAct.ts';

export interface ActFormProps {
  readonly unitId: string;
  /** What it is about, in a sentence. */
  readonly intro: ReactNode;
  /** What the button says. */
  readonly does: string;
  readonly onSubmit: () => Promise<Done>;
  readonly onClose: () => void;
  readonly children: ReactNode;
}

/** The frame of each act's form: the browser checks the fields, the service judges, and what it says stands here. */
export function ActForm({ unitId, intro, does, onSubmit, onClose, children }: ActFormProps) {
  const { act, isBusy, error } = useAct(unitId);
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    if (await act(onSubmit)) onClose();
  };
  return (
    <form onSubmit={(event) => void submit(event)}>
      <p className="soft">{intro}</p>
      <div className={styles.fields}>{children}</div>
      {error && (
        <p role="alert" className={styles.error}>
          {error}
        </p>
      )}
      <DialogButtons>
        <Button variant="default" onClick={onClose}>
          Cancel
        </Button>
        <Button type="submit" loading={isBusy}>
          {does}
        </Button>
      </DialogButtons>
    </form>
  );
}
