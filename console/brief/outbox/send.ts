import { service } from '../../api/client.ts';
import { ServiceProblem } from '../../api/problem.ts';
import { tellChanged } from '../../app/changed.ts';
import { dropWaiting, keepWaiting, type Waiting, waiting } from './outbox.ts';

const LOCK = 'brinebell-outbox';
/** The service has taken it in, and shows it a moment later, milliseconds. */
const TAKEN_IN_MS = 1_500;

/** Whether a refusal is for good: what was sent would be refused again, whenever. */
export function isForGood(error: unknown): error is ServiceProblem {
  return (
    error instanceof ServiceProblem && error.status < 500 && ![401, 408, 425, 429].includes(error.status)
  );
}

/** Sends one report; it waits no longer once the service has it. */
export async function send({ id, unitId, report }: Waiting): Promise<void> {
  // Under its own id: where the answer was lost, sending it again says nothing twice.
  const body = { ...report, id };
  await service.POST('/v1/units/{unitId}/visits/record', { params: { path: { unitId } }, body });
  dropWaiting(id);
  const changed = () => tellChanged(new Set([unitId]));
  changed();
  setTimeout(changed, TAKEN_IN_MS);
}

/**
 * Sends what waits of a person, one after the other, in one tab at a time. What the service refuses for good stays, with
 * the reason. Returns the sites whose reports went out.
 */
export async function sendWaiting(personId: string): Promise<readonly string[]> {
  const sent: string[] = [];
  await alone(async () => {
    for (const entry of waiting()) {
      if (entry.personId !== personId || entry.refused !== undefined) continue;
      try {
        await send(entry);
        sent.push(entry.site);
      } catch (error) {
        if (!isForGood(error)) return;
        keepWaiting({ ...entry, refused: error.message });
      }
    }
  });
  return sent;
}

/** Two tabs at once would send a report twice. Where the browser has no locks there is one tab: a phone's. */
async function alone(act: () => Promise<void>): Promise<void> {
  if (!('locks' in navigator)) return act();
  await navigator.locks.request(LOCK, { ifAvailable: true }, (lock) => (lock ? act() : undefined));
}
