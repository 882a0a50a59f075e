// Prints the OpenAPI document that the API makes of its routes. Nothing is asked of what stands behind them.
import { apiApp } from '../../functions/api/app.ts';
import type { Ports } from '../../functions/ports.ts';

function unused(): never {
  throw new Error('the document needs nothing of the service');
}

const outlet = { send: unused };
/** Routes take the store apart when they are made, and call it only when asked. */
const store: Ports['store'] = new Proxy(Object.create(null), { get: () => unused });

const app = apiApp(
  {
    store,
    queues: { ingest: outlet, assess: outlet, notify: outlet, archive: outlet },
    now: Date.now,
    meter: { count: unused },
    changes: { ended: new AbortController().signal, tell: unused, listen: unused },
    log: { debug: unused, info: unused, warn: unused, error: console.error },
  },
  {
    answerSecret: async () => '',
    identity: { signIn: { issuer: '', clientId: '', scope: '' }, mailOf: unused },
    deadLetters: { list: unused, sendAgain: unused },
    credentials: { has: unused, issue: unused, revoke: unused },
    trials: { start: unused, look: unused, page: unused },
    health: unused,
  },
);

const answer = await app.request('/openapi.json');
if (!answer.ok) throw new Error(await answer.text());
console.log(await answer.text());
