import { useState } from 'react';
import { messageOf } from '../app/failure.ts';
import { useTell } from '../app/status.tsx';

/** Does something that cannot be taken back, and says in the status line what came of it. */
export function useSend(after: () => Promise<unknown>) {
  const tell = useTell();
  const [isBusy, setBusy] = useState(false);
  const send = async (doing: () => Promise<string>) => {
    setBusy(true);
    try {
      tell({ text: await doing() });
      await after();
    } catch (reason) {
      tell({ text: `Nothing was sent. ${messageOf(reason)}`, failed: true });
    } finally {
      setBusy(false);
    }
  };
  return { send, isBusy };
}
