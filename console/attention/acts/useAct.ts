import { useCallback, useState } from 'react';
import { tellChanged } from '../../app/changed.ts';
import { messageOf } from '../../app/failure.ts';
import { useTell } from '../../app/status.tsx';
import type { Done } from './acts.ts';

/** An act shows when its event has been taken in: usually the stream of changes says so before this, milliseconds. */
const TAKEN_IN_MS = 1_500;

/**
 * Does what is asked, and says in the status line what it did, with a way back where there is one. `act` returns whether
 * it was done; what went wrong otherwise is in `error`.
 */
export function useAct(unitId: string) {
  const tell = useTell();
  const [isBusy, setBusy] = useState(false);
  const [error, setError] = useState<string>();
  const act = useCallback(
    async (doing: () => Promise<Done>): Promise<boolean> => {
      const changed = () => tellChanged(new Set([unitId]));
      setBusy(true);
      setError(undefined);
      try {
        const { text, undo } = await doing();
        const back = async () => {
          try {
            if (undo) tell({ text: (await undo()).text });
          } catch (reason) {
            tell({ text: `It could not be taken back. ${messageOf(reason)}`, failed: true });
          }
          changed();
          setTimeout(changed, TAKEN_IN_MS);
        };
        tell({ text, undo: undo && back });
        changed();
        setTimeout(changed, TAKEN_IN_MS);
        return true;
      } catch (reason) {
        setError(messageOf(reason));
        return false;
      } finally {
        setBusy(false);
      }
    },
    [tell, unitId],
  );
  return { act, isBusy, error };
}
