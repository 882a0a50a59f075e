import { useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { peopleQuery } from '../api/queries.ts';
import { messageOf } from '../app/failure.ts';
import { type Status, useTell } from '../app/status.tsx';

/** Changes people, tells of it in the status line, and reads them anew. What went wrong is in `error`. */
export function useChange(onDone: () => void) {
  const client = useQueryClient();
  const tell = useTell();
  const [isBusy, setBusy] = useState(false);
  const [error, setError] = useState<string>();
  const change = async (doing: () => Promise<void>, { text, undo }: Status) => {
    const again = () => client.invalidateQueries({ queryKey: peopleQuery.queryKey });
    setBusy(true);
    setError(undefined);
    try {
      await doing();
      tell({
        text,
        undo:
          undo &&
          (async () => {
            await undo();
            await again();
            tell(undefined);
          }),
      });
      await again();
      onDone();
    } catch (reason) {
      setError(messageOf(reason));
    } finally {
      setBusy(false);
    }
  };
  return { change, isBusy, error };
}
