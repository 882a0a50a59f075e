import { Button } from '@mantine/core';
import { createContext, type ReactNode, useContext, useMemo, useState } from 'react';
import styles from './status.module.css';

/** What an act did, in a sentence, and how to take it back. */
export interface Status {
  readonly text: string;
  readonly failed?: boolean;
  readonly undo?: (() => Promise<void>) | undefined;
}

interface Statuses {
  readonly status: Status | undefined;
  readonly tell: (status: Status | undefined) => void;
}

const StatusContext = createContext<Statuses | undefined>(undefined);

export function StatusProvider({ children }: { children: ReactNode }) {
  const [status, tell] = useState<Status>();
  const statuses = useMemo(() => ({ status, tell }), [status]);
  return <StatusContext value={statuses}>{children}</StatusContext>;
}

/** Tells what an act did. It stands until the next act, or until somebody puts it away: nobody has to be quick. */
export function useTell(): Statuses['tell'] {
  return useStatuses().tell;
}

export function StatusLine() {
  const { status, tell } = useStatuses();
  const [isBusy, setBusy] = useState(false);
  const undo = async (act: () => Promise<void>) => {
    setBusy(true);
    await act();
    setBusy(false);
  };
  return (
    <div className={styles.place} data-empty={!status}>
      <div role="status" aria-atomic="true">
        {status && (
          <p className={status.failed ? styles.failed : undefined} dir="auto">
            {status.text}
          </p>
        )}
      </div>
      {status?.undo && (
        <Button
          variant="default"
          size="xs"
          loading={isBusy}
          onClick={() => status.undo && void undo(status.undo)}
        >
          Undo
        </Button>
      )}
      {status && (
        <Button variant="subtle" size="xs" onClick={() => tell(undefined)}>
          Close
        </Button>
      )}
    </div>
  );
}

function useStatuses(): Statuses {
  const statuses = useContext(StatusContext);
  if (!statuses) throw new Error('useTell is for pages inside of the shell');
  return statuses;
}
