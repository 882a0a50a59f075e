import { useCallback, useEffect, useState, useSyncExternalStore } from 'react';
import { useMe } from '../../app/Me.ts';
import { useTell } from '../../app/status.tsx';
import { onWaiting, waiting } from './outbox.ts';
import { sendWaiting } from './send.ts';

/** While something waits it is tried so often, milliseconds. */
const EVERY_MS = 15_000;

/** What waits of the person who has signed in; it is sent when the page opens, when the network is back, and now and then. */
export function useOutbox() {
  const me = useMe();
  const tell = useTell();
  const personId = me.person?.personId ?? '';
  const all = useSyncExternalStore(onWaiting, waiting);
  const entries = all.filter((entry) => entry.personId === personId);
  const [isBusy, setBusy] = useState(false);
  const sendNow = useCallback(async () => {
    setBusy(true);
    try {
      const sent = await sendWaiting(personId);
      if (sent.length > 0) tell({ text: `Sent now: the report of ${sent.join(', ')}.` });
    } finally {
      setBusy(false);
    }
  }, [personId, tell]);
  const isWaiting = entries.some(({ refused }) => refused === undefined);
  useEffect(() => {
    if (!isWaiting) return;
    const again = () => void sendNow();
    const first = setTimeout(again, 1_000);
    const timer = setInterval(again, EVERY_MS);
    window.addEventListener('online', again);
    return () => {
      clearTimeout(first);
      clearInterval(timer);
      window.removeEventListener('online', again);
    };
  }, [isWaiting, sendNow]);
  return { entries, sendNow, isBusy };
}
