import { signInNeeded } from '../signIn/needed.ts';
import { accessToken } from '../signIn/session.ts';
import { eventsOf } from './eventStream.ts';

const POLL_MS = 10_000;
const SHORTEST_WAIT_MS = 1_000;
const LONGEST_WAIT_MS = 30_000;
/** The service says something every 15 s; after so long without a word the connection is dead. */
const SILENCE_MS = 40_000;

/** What the console is told: which units changed; or, where that is not known, that something may have. */
export type Changed = ReadonlySet<string> | 'anything';

/** How the console hears of changes now. */
export type Hearing = 'live' | 'asking' | 'cut-off';

export interface Listener {
  changed(what: Changed): void;
  hears(how: Hearing): void;
}

/** Nothing tells of changes at this address, or not now; or the sign-in is over. */
type Refusal = 'no-stream' | 'signed-out';

/**
 * Listens to changes until it is aborted: by the event stream, which is opened again when it breaks; where the service
 * has none, by asking every 10 s. `EventSource` would put the token into an address.
 */
export async function listenToChanges({ changed, hears }: Listener, ended: AbortSignal): Promise<void> {
  let wait = SHORTEST_WAIT_MS;
  while (!ended.aborted) {
    try {
      const refusal = await readStream(ended, changed, () => {
        wait = SHORTEST_WAIT_MS;
        hears('live');
        // Whatever happened while nobody listened.
        changed('anything');
      });
      if (refusal === 'signed-out') return;
      if (refusal === 'no-stream') {
        hears('asking');
        await pause(POLL_MS, ended);
        if (!ended.aborted) changed('anything');
        continue;
      }
    } catch {
      // The network or the service went away; what it was does not matter, it is asked again.
    }
    if (ended.aborted) return;
    hears('cut-off');
    // Many consoles must not come back all at once.
    await pause(wait * (0.5 + Math.random()), ended);
    wait = Math.min(2 * wait, LONGEST_WAIT_MS);
  }
}

async function readStream(
  ended: AbortSignal,
  changed: (units: ReadonlySet<string>) => void,
  opened: () => void,
): Promise<Refusal | undefined> {
  const silent = new AbortController();
  let timer = setTimeout(() => silent.abort(), SILENCE_MS);
  const heard = () => {
    clearTimeout(timer);
    timer = setTimeout(() => silent.abort(), SILENCE_MS);
  };
  try {
    const token = accessToken();
    const answer = await fetch('/v1/changes', {
      headers: { accept: 'text/event-stream', ...(token && { authorization: `Bearer ${token}` }) },
      signal: AbortSignal.any([ended, silent.signal]),
    });
    if (answer.status === 401) return signInNeeded() ? 'signed-out' : 'no-stream';
    if (answer.status === 404 || answer.status === 501 || !answer.body) return 'no-stream';
    if (!answer.ok) throw new Error(`answered ${answer.status}`);
    opened();
    const watched = answer.body.pipeThrough(
      new TransformStream<Uint8Array<ArrayBuffer>, Uint8Array<ArrayBuffer>>({
        transform(chunk, controller) {
          heard();
          controller.enqueue(chunk);
        },
      }),
    );
    for await (const { event, data } of eventsOf(watched)) {
      const unitId = event === 'unit' ? unitIdOf(data) : undefined;
      if (unitId !== undefined) changed(new Set([unitId]));
    }
    return undefined;
  } finally {
    clearTimeout(timer);
    silent.abort();
  }
}

function unitIdOf(data: string): string | undefined {
  const read: unknown = JSON.parse(data);
  const named = typeof read === 'object' && read !== null && 'unitId' in read ? read.unitId : undefined;
  return typeof named === 'string' ? named : undefined;
}

function pause(ms: number, ended: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    const done = () => {
      clearTimeout(timer);
      ended.removeEventListener('abort', done);
      resolve();
    };
    const timer = setTimeout(done, ms);
    ended.addEventListener('abort', done);
  });
}
