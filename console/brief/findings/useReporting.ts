import { useState } from 'react';
import { messageOf } from '../../app/failure.ts';
import { useMe } from '../../app/Me.ts';
import { useTell } from '../../app/status.tsx';
import type { Brief } from '../../unit/types.ts';
import { dropWaiting, keepWaiting, type Waiting } from '../outbox/outbox.ts';
import { isForGood, send } from '../outbox/send.ts';
import type { Report } from './report.ts';

/**
 * Sends the report of a visit, or keeps it on this device until the service answers. `report` returns whether it is
 * taken care of; where it is refused, `error` says why and the form stays as it is.
 */
export function useReporting(brief: Brief) {
  const me = useMe();
  const tell = useTell();
  const [isBusy, setBusy] = useState(false);
  const [error, setError] = useState<string>();
  const report = async (what: Report): Promise<boolean> => {
    const entry: Waiting = {
      id: crypto.randomUUID(),
      unitId: brief.unitId,
      site: brief.siteName ?? brief.siteId,
      personId: me.person?.personId ?? '',
      report: what,
      keptAt: new Date().toISOString(),
    };
    setBusy(true);
    setError(undefined);
    // Kept before it is sent: whatever happens on the way, it is not lost.
    keepWaiting(entry);
    try {
      await send(entry);
      tell({ text: `The report of ${entry.site} is sent.` });
      return true;
    } catch (reason) {
      if (isForGood(reason)) {
        dropWaiting(entry.id);
        setError(messageOf(reason));
        return false;
      }
      tell({
        text: `The service does not answer. The report of ${entry.site} is kept on this device and sent later.`,
      });
      return true;
    } finally {
      setBusy(false);
    }
  };
  return { report, isBusy, error };
}
