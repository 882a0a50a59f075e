import { Logger } from '@aws-lambda-powertools/logger';
import { createLocalJWKSet, exportJWK, generateKeyPair, SignJWT } from 'jose';
import * as z from 'zod';
import { apiApp } from '../../../functions/api/app.ts';
import { oidcIdentity } from '../../../functions/api/identity.ts';
import { passwordCredentials } from '../../../functions/meters/credentials.ts';
import type { Outgoing, Ports } from '../../../functions/ports.ts';
import { hashOf } from '../../../functions/secrets.ts';
import { type ReadFacts, trialRun } from '../../../functions/trial/run.ts';
import { trialsOf } from '../../../functions/trial/trials.ts';
import { localTrials } from '../../../infra/local/trials.ts';
import { follow } from '../../../lib/live/follow.ts';
import { newHead } from '../../../lib/live/head.ts';
import { alertIdOf } from '../../../lib/live/transitions.ts';
import type { Store } from '../../../lib/store/store.ts';
import { toAlert } from '../../../lib/watch/episode.ts';
import { rulesSchema } from '../../../lib/watch/rules.ts';
import { admit } from '../../../shared/admission.ts';
import type { Fact } from '../../../shared/facts.ts';
import { type Registry, readRecords } from '../../../shared/registry.ts';
import { registryOf } from '../../support/fleet.ts';
import { memoryFiles } from '../../support/memoryFiles.ts';
import { memoryStore } from '../../support/memoryStore.ts';

/** What the service's clock shows: a while after the stories that the tests tell. */
export const NOW = Date.UTC(2026, 2, 30, 12);
const OPERATOR_SECRET = 'the-operator';
export const OPERATOR_KEY = `operator.${OPERATOR_SECRET}`;

const PROVIDER = { issuer: 'https://sign-in.example', clientId: 'console', scope: 'openid email' };
const pair = await generateKeyPair('ES256');
const keys = createLocalJWKSet({ keys: [{ ...(await exportJWK(pair.publicKey)), kid: 'k', alg: 'ES256' }] });

/** A token of our provider, made out to a mail address, or one that something is wrong with. */
export async function tokenOf(
  mail: string,
  wrong: {
    issuer?: string;
    audience?: string;
    expires?: string;
    claims?: object;
    key?: Parameters<SignJWT['sign']>[0];
  } = {},
): Promise<string> {
  return new SignJWT({ email: mail, ...wrong.claims })
    .setProtectedHeader({ alg: 'ES256', kid: 'k' })
    .setIssuer(wrong.issuer ?? PROVIDER.issuer)
    .setAudience(wrong.audience ?? PROVIDER.clientId)
    .setIssuedAt()
    .setExpirationTime(wrong.expires ?? '10m')
    .sign(wrong.key ?? pair.privateKey);
}

type Sent = Record<keyof Ports['queues'], Outgoing[]>;

/** The API over a store that forgets, and what it has sent. */
export function service(
  store: Store = memoryStore(),
  now: () => number = () => NOW,
  readFacts: ReadFacts = nothingArchived,
) {
  const sent: Sent = { ingest: [], assess: [], notify: [], archive: [] };
  const outlet = (queue: keyof Sent) => ({
    send: async (messages: readonly Outgoing[]) => void sent[queue].push(...messages),
  });
  const ports: Ports = {
    store,
    queues: {
      ingest: outlet('ingest'),
      assess: outlet('assess'),
      notify: outlet('notify'),
      archive: outlet('archive'),
    },
    now,
    meter: { count: () => {} },
    log: new Logger({ logLevel: 'SILENT' }),
  };
  const { files } = memoryFiles();
  const run = trialRun(files, readFacts, ports);
  const trials = trialsOf(files, localTrials({ ...ports, files, run }));
  const app = apiApp(ports, {
    trials,
    files,
    operatorKeyHash: async () => hashOf(OPERATOR_SECRET),
    answerSecret: async () => 'answers',
    credentials: passwordCredentials(store),
    identity: oidcIdentity({ ...PROVIDER, jwksUri: `${PROVIDER.issuer}/keys`, keys }),
    health: async () => ({ ok: true, queues: 'empty' }),
    metrics: async () => ({ contentType: 'application/openmetrics-text; version=1.0.0', text: '# EOF\n' }),
    deadLetters: {
      list: async ({ companyId }) => [
        {
          ...{ id: '1', queue: 'ingest', receives: 8, reason: 'it would not', parkedAt: NOW },
          body: `a line of ${companyId}`,
        },
      ],
      sendAgain: async () => 1,
    },
  });

  /** Asks for something; `body` is sent as JSON unless another type is given. */
  const ask = (method: string, path: string, given: { key?: string; body?: unknown; type?: string } = {}) => {
    const { key, body, type = 'application/json' } = given;
    const headers = new Headers(key === undefined ? {} : { authorization: `Bearer ${key}` });
    if (body !== undefined) headers.set('content-type', type);
    const text = typeof body === 'string' ? body : JSON.stringify(body);
    return app.request(path, { method, headers, ...(text !== undefined && { body: text }) });
  };
  return { app, ports, store, sent, ask, trials, files };
}

/** Of units of which nothing is archived trials tell by their names alone. */
async function* nothingArchived(): ReturnType<ReadFacts> {}

/** A key of a company, by the way that leads to one. */
export async function keyOf({ store, ask }: ReturnType<typeof service>, companyId: string): Promise<string> {
  const made = (await store.company(companyId))
    ? await ask('POST', `/v1/companies/${companyId}/keys`, { key: OPERATOR_KEY })
    : await ask('POST', '/v1/companies', { key: OPERATOR_KEY, body: { companyId, name: companyId } });
  return z.object({ key: z.string() }).parse(await made.json()).key;
}

/** The bodies of messages. */
export function bodies(messages: readonly Outgoing[]): Record<string, unknown>[] {
  return messages.map(({ body }) => JSON.parse(body));
}

/** Puts a fleet and its story in a store, as the live service leaves them. */
export async function live(store: Store, records: readonly unknown[], lines: readonly string[]) {
  const registry = registryOf(...records);
  const all = readRecords(JSON.stringify(records)).records;
  for (const record of all.values()) await store.putRecords(record.companyId, [record]);
  const rules = rulesSchema.parse({});
  for (const [unitId, unit] of registry.units) {
    const ref = { companyId: unit.companyId, unitId };
    const own = factsOf(unitId, lines, registry);
    const stored = own.map(({ fact, line }) => ({ key: `${fact.id}#0`, line }));
    await store.putFacts([{ unit: ref, facts: stored }]);
    const facts = own.map(({ fact }) => fact).sort((a, b) => a.known - b.known);
    const { head, ended, months } = follow(unit, newHead(unit, rules.fold), facts, { rules });
    for (const episode of [...ended, ...head.open]) {
      await store.putAlert(ref, 1, alertIdOf(episode), toAlert(unitId, episode));
    }
    // The first month stands already; those after wait in the outbox, and the last runs.
    const [first, ...rest] = months.filter(({ month }) => month !== head.state.month.month);
    if (first) await store.putMonth(ref, 1, first);
    const outbox = { alerts: [], withdrawn: [], handled: [], months: rest, lostMonths: [], transitions: [] };
    await store.putHead(ref, 0, { head, basis: '', outbox });
  }
}

function factsOf(unitId: string, lines: readonly string[], registry: Registry) {
  return lines.flatMap((line): { fact: Fact; line: string }[] => {
    const admission = admit(line, registry.units);
    return admission.accepted && admission.unit.unitId === unitId ? [{ fact: admission.fact, line }] : [];
  });
}
