import { generateKeyPair } from 'jose';
import { beforeAll, describe, expect, it } from 'vitest';
import * as z from 'zod';
import { problemSchema } from '../../../functions/api/problemSchema.ts';
import { hashOf } from '../../../functions/secrets.ts';
import { ROLES, type Role } from '../../../lib/store/roles.ts';
import type { Store } from '../../../lib/store/store.ts';
import { rowOf } from '../../lib/store/examples.ts';
import { lines, records } from '../../support/smallFleet.ts';
import { bodies, keyOf, live, NOW, OPERATOR_KEY, service, tokenOf } from './service.ts';

/** Company A is called so that nothing of it can be mistaken for an example of the document. */
const A = 'north-fork';
const B = 'gull-softening';
const UNIT = 'nf-19';
const UNITS = ['nf-17', 'nf-18', UNIT];
const METER_KEY = `${A}/${UNIT}.meter-secret`;
const renamed = (text: string) =>
  text
    .replaceAll('fenwick-water', A)
    .replaceAll('u-1', 'nf-1')
    .replaceAll('alder-county', 'nf-county')
    .replaceAll('high-basin', 'nf-basin');
/** What an answer to anybody else must not have in it. */
const MARKS = ['north-fork', 'nf-'];
/** All that may be asked without a key. */
const PUBLIC = ['GET /health', 'GET /metrics', 'GET /openapi.json', 'GET /v1/sign-in'];
/** People of company A, by role. */
const mailOf = (role: Role) => `nf-${role}@north-fork.example`;

const content = z.record(
  z.string(),
  z.looseObject({ schema: z.looseObject({}), example: z.unknown().optional() }),
);
const operationSchema = z.looseObject({
  security: z.array(z.record(z.string(), z.array(z.string()))).optional(),
  requestBody: z.looseObject({ content }).optional(),
  responses: z.record(z.string(), z.looseObject({ content: content.optional() })),
});
/** As much of an OpenAPI document as the walk goes by. */
const documentSchema = z.looseObject({
  openapi: z.literal('3.1.0'),
  paths: z.record(z.string(), z.record(z.string(), operationSchema)),
  components: z.looseObject({ schemas: z.record(z.string(), z.looseObject({})) }),
});

type Operation = z.infer<typeof operationSchema>;
interface Walked extends Operation {
  name: string;
  method: string;
  path: string;
}

/** Two companies, the first with something of everything. */
async function twoCompanies() {
  const made = service();
  const { store } = made;
  const keys = { a: await keyOf(made, A), b: await keyOf(made, B) };
  await live(
    store,
    records.map((record) => JSON.parse(renamed(JSON.stringify(record)))),
    lines.map(renamed),
  );
  const ref = { companyId: A, unitId: UNIT };
  await store.putCompany({
    ...{ companyId: A, name: 'nf-name', rules: { overrun: { raise: 0.9 } } },
    channels: [{ type: 'webhook', url: 'https://nf-desk.example/hook', secret: 'nf-secret-of-the-hook' }],
  });
  const visit = { technician: 'nf-tech', date: '2026-06-03', reason: 'nf-reason', by: 'nf-desk', at: NOW };
  await store.putVisit(ref, { visitId: 'nf-visit', ...visit });
  await store.putQuarantined([
    {
      ...{ companyId: A, sender: `${A}/${UNIT}`, receivedAt: NOW },
      ...{ reason: 'not-json', detail: 'nf-detail', raw: 'nf-raw' },
    },
  ]);
  for (const role of ROLES) {
    const person = {
      personId: `pat-${role}`,
      mail: mailOf(role),
      name: 'nf-name',
      role,
      units: 'us' as const,
    };
    await store.putPerson(A, person);
  }
  await store.putAttention(ref, 1, rowOf({ unitId: UNIT, siteId: 'nf-site', region: 'nf-county' }));
  await store.putAudited(A, { by: 'nf-desk', at: NOW, what: 'nf-what', unitId: UNIT, detail: null });
  await store.putPrincipal({ name: `${A}/${UNIT}`, ...ref, secretHash: hashOf('meter-secret') });
  const [alert] = await store.alertsOf(ref);
  if (!alert) throw new Error('the stalled meter of the small fleet raises no alert');
  // The second: the other company may have a first one of its own.
  await trialOf(made);
  const trialId = await trialOf(made);
  const samples: Record<string, string> = {
    trialId,
    ...{ unitId: UNIT, alertId: alert.alertId, visitId: 'nf-visit', personId: 'pat-analyst' },
    ...{ region: 'nf-basin', file: '2026-03.html' },
    ...{ companyId: A, keyName: keys.a.slice(0, keys.a.lastIndexOf('.')) },
  };
  return { ...made, keys, samples };
}

/** A trial of company A that is done. */
async function trialOf({ trials }: ReturnType<typeof service>): Promise<string> {
  const trialId = await trials.start(A, { overrun: { raise: 0.97 } });
  if (trialId === undefined) throw new Error('another trial is under way');
  while ((await trials.look(A, trialId))?.state === 'running')
    await new Promise((resolve) => setTimeout(resolve, 1));
  return trialId;
}

type Companies = Awaited<ReturnType<typeof twoCompanies>>;

/** Everything that is kept of company A. */
async function keptOf(store: Store) {
  const page = { limit: 1000 };
  const refs = UNITS.map((unitId) => ({ companyId: A, unitId }));
  return Promise.all([
    ...[
      store.records(A, page),
      store.company(A),
      store.quarantined(A, page),
      store.principal(`${A}/${UNIT}`),
      store.people(A),
      store.attention(A, page),
      store.audited(A, page),
    ],
    ...refs.flatMap((ref) => [store.unit(ref, { fresh: true }), store.facts(ref, page), store.alertsOf(ref)]),
    ...refs.flatMap((ref) => [store.visits(ref), store.months(ref)]),
  ]);
}

let document: z.infer<typeof documentSchema>;
let operations: Walked[];

beforeAll(async () => {
  document = documentSchema.parse(await (await service().ask('GET', '/openapi.json')).json());
  operations = Object.entries(document.paths).flatMap(([path, item]) =>
    Object.entries(item).map(([verb, operation]) => {
      const method = verb.toUpperCase();
      return { ...operation, name: `${method} ${path}`, method, path };
    }),
  );
});

/** An address with its parameters filled in. A parameter that has no sample stops the walk. */
function addressOf({ path }: Walked, samples: Record<string, string>): string {
  return path.replaceAll(/\{(\w+)\}/g, (_, name: string) => {
    const sample = samples[name];
    if (sample === undefined) throw new Error(`give the walk a sample of {${name}}`);
    return encodeURIComponent(sample);
  });
}

/** A request with each body that the document shows an example of; one without a body where none is taken. */
function requestsOf({ name, requestBody }: Walked): { body?: unknown; type?: string }[] {
  if (!requestBody) return [{}];
  return Object.entries(requestBody.content).map(([type, { example }]) => {
    if (example === undefined) throw new Error(`${name} shows no example of ${type}`);
    return { type, body: example };
  });
}

/** A key by which a route may be asked; a person's token where it is for people alone. */
async function keyFor(security: Operation['security'], companyKey: string): Promise<string> {
  if (security?.some((each) => 'operatorKey' in each)) return OPERATOR_KEY;
  return security?.some((each) => 'companyKey' in each) === false ? tokenOf(mailOf('owner')) : companyKey;
}

/** Walks every route with every kind of body it takes; whatever the answer, it is one that the document tells of. */
async function walk(
  { ask, samples }: Companies,
  key: string | undefined,
  visit: (operation: Walked, answer: { status: number; text: string }) => void,
) {
  expect(operations.length).toBeGreaterThan(30);
  for (const operation of operations) {
    for (const request of requestsOf(operation)) {
      const response = await ask(operation.method, addressOf(operation, samples), {
        ...request,
        ...(key !== undefined && { key }),
      });
      const text = await response.text();
      conforms(operation, response.status, typeOf(response), text);
      visit(operation, { status: response.status, text });
    }
  }
}

function typeOf(response: Response): string {
  return response.headers.get('content-type')?.split(';')[0] ?? '';
}

function conforms({ name, responses }: Walked, status: number, type: string, text: string) {
  const response = responses[status];
  if (!response) throw new Error(`${name} answers ${status}, of which the document does not tell: ${text}`);
  if (!response.content) return expect([name, text]).toEqual([name, '']);
  const media = response.content[type];
  if (!media) throw new Error(`${name} answers ${type}, of which the document does not tell`);
  if (!type.endsWith('json') || type.endsWith('ndjson')) return;
  const references = JSON.stringify({ ...media.schema, $defs: document.components.schemas });
  const schema = z.fromJSONSchema(JSON.parse(references.replaceAll('#/components/schemas/', '#/$defs/')));
  expect([name, schema.safeParse(JSON.parse(text)).error]).toEqual([name, undefined]);
}

describe('every route', () => {
  it('is in the document, and nothing else is', () => {
    const { app } = service();
    const routed = app.routes
      // Pages for people are none of the API's; see tests/functions/question.test.ts.
      .filter(({ method, path }) => method !== 'ALL' && !path.startsWith('/answer/'))
      .map(({ method, path }) => `${method} ${path.replaceAll(/:(\w+)/g, '{$1}')}`);
    expect(new Set(operations.map(({ name }) => name))).toEqual(new Set(routed));
  });

  it('is refused without a key and with a wrong one, but for what anybody may ask', async () => {
    const companies = await twoCompanies();
    const wrong = [
      `${companies.keys.a}x`,
      `${B}~none.secret`,
      `${A}/${UNIT}.`,
      'operator.guess',
      'no-secret',
      await tokenOf(mailOf('owner'), { expires: '-1h' }),
      await tokenOf(mailOf('owner'), { issuer: 'https://else.example' }),
      await tokenOf(mailOf('owner'), { audience: 'another' }),
      await tokenOf(mailOf('owner'), { claims: { email_verified: false } }),
      await tokenOf(mailOf('owner'), { key: (await generateKeyPair('ES256')).privateKey }),
    ];
    const before = await keptOf(companies.store);
    for (const key of [undefined, ...wrong]) {
      const open: string[] = [];
      await walk(companies, key, ({ name }, { status, text }) => {
        if (status !== 401) open.push(name);
        else expect(problemSchema.parse(JSON.parse(text)).detail).toBeTruthy();
      });
      expect([key, open.sort()]).toEqual([key, PUBLIC]);
    }
    expect(await keptOf(companies.store)).toEqual(before);
    expect(companies.sent).toEqual({ ingest: [], assess: [], notify: [], archive: [] });
  });

  it('shows nothing of a company to another, and changes nothing of it', async () => {
    const companies = await twoCompanies();
    const before = await keptOf(companies.store);
    await walk(companies, companies.keys.b, ({ name, path, security }, { status, text }) => {
      // Puts somebody of the caller's own, by the id that the caller names, and takes them off.
      if (path === '/v1/people/{personId}') return expect([name, status < 300]).toEqual([name, true]);
      for (const mark of MARKS) expect([name, text]).not.toEqual([name, expect.stringContaining(mark)]);
      const operators = security?.some((each) => 'operatorKey' in each);
      if (operators) expect([name, status]).toEqual([name, 403]);
      else if (name === 'PUT /v1/me') expect([name, status]).toEqual([name, 403]);
      else if (path.includes('{')) expect([name, status]).toEqual([name, 404]);
      else expect([name, status]).toEqual([name, expect.toSatisfy((code: number) => code < 300)]);
    });
    expect(await keptOf(companies.store)).toEqual(before);
    expect(await companies.store.principal(companies.samples.keyName ?? '')).toBeDefined();
    const sent = bodies(Object.values(companies.sent).flat());
    expect(new Set(sent.map(({ companyId }) => companyId))).toEqual(new Set([B]));
  });

  it('tells a company the same of another’s unit as of one that is nobody’s', async () => {
    const companies = await twoCompanies();
    const ofNobody = { ...companies.samples, unitId: 'nobodys' };
    const answers: [name: string, text: string][] = [];
    await walk(companies, companies.keys.b, ({ name, path }, { text }) => {
      if (path.includes('{unitId}')) answers.push([name, text]);
    });
    const others: typeof answers = [];
    await walk({ ...companies, samples: ofNobody }, companies.keys.b, ({ name, path }, { text }) => {
      if (path.includes('{unitId}')) others.push([name, text]);
    });
    expect(answers.length).toBeGreaterThan(10);
    expect(others).toEqual(answers);
  });

  it('lets each role do what the document says, and nothing else', async () => {
    for (const role of ROLES) {
      const companies = await twoCompanies();
      const done: string[] = [];
      await walk(companies, await tokenOf(mailOf(role)), ({ name, method, path, security = [] }, answer) => {
        const roles = security.flatMap((each) => each.person ?? []);
        if (PUBLIC.includes(name)) return expect([name, answer.status]).toEqual([name, 200]);
        if (!security.some((each) => 'person' in each)) {
          return expect([name, [401, 403]]).toEqual([name, expect.arrayContaining([answer.status])]);
        }
        if (roles.includes(role)) {
          expect([name, answer.text]).not.toEqual([name, expect.stringContaining('/problems/role')]);
          const isKept = method !== 'GET' || path.startsWith('/v1/backup/');
          if (isKept && answer.status < 300) done.push(`${method} ${path}`);
          return;
        }
        expect([role, name, JSON.parse(answer.text)]).toEqual([
          role,
          name,
          expect.objectContaining({ type: '/problems/role-not-for-this', status: 403 }),
        ]);
      });
      // All that changed anything or took all away is written down, with who it was.
      const { items } = await companies.store.audited(A, { limit: 1000 });
      const own = items.filter(({ by }) => by === `nf-name (${role})`);
      expect(own).toHaveLength(done.length);
      expect(role === 'analyst' ? done : ['PUT /v1/me']).toEqual(['PUT /v1/me']);
    }
  });

  it('knows nobody but who has been added', async () => {
    const { ask } = await twoCompanies();
    const response = await ask('GET', '/v1/me', { key: await tokenOf('stranger@north-fork.example') });
    expect(problemSchema.parse(await response.json())).toMatchObject({ type: '/problems/person-unknown' });
  });

  it('lets a meter send events and do nothing else', async () => {
    const companies = await twoCompanies();
    await walk(companies, METER_KEY, ({ name }, { status }) => {
      const wanted = PUBLIC.includes(name) ? 200 : name === 'POST /v1/events' ? 202 : 403;
      expect([name, status]).toEqual([name, wanted]);
    });
    const sent = bodies(companies.sent.ingest);
    expect(new Set(sent.map(({ companyId, unitId }) => `${companyId}/${unitId}`))).toEqual(
      new Set([`${A}/${UNIT}`]),
    );
  });

  it('lets the operator make companies and keys and do nothing else', async () => {
    const companies = await twoCompanies();
    await walk(companies, OPERATOR_KEY, ({ name, path }, { status }) => {
      if (PUBLIC.includes(name) || path.startsWith('/v1/companies'))
        expect([name, status < 500]).toEqual([name, true]);
      else expect([name, status]).toEqual([name, 403]);
    });
  });

  it('does for whom it is meant what the document says, with the examples that it shows', async () => {
    for (const operation of operations) {
      const { method, name, security } = operation;
      for (const request of requestsOf(operation)) {
        const { ask, keys, samples } = await twoCompanies();
        const key = await keyFor(security, keys.a);
        const response = await ask(method, addressOf(operation, samples), { ...request, key });
        const text = await response.text();
        expect([name, text, response.ok]).toEqual([name, text, true]);
        conforms(operation, response.status, typeOf(response), text);
        expect([name, text]).not.toEqual([name, expect.stringContaining('nf-secret')]);
      }
    }
  });

  it('refuses a body that it cannot take, and says what it takes', async () => {
    const companies = await twoCompanies();
    const withBody = operations.filter(({ requestBody }) => requestBody);
    expect(withBody.length).toBeGreaterThan(8);
    for (const operation of withBody) {
      const { name, method, security } = operation;
      const key = await keyFor(security, companies.keys.a);
      const send = async (type: string, body: string) => {
        const response = await companies.ask(method, addressOf(operation, companies.samples), {
          key,
          type,
          body,
        });
        const text = await response.text();
        conforms(operation, response.status, typeOf(response), text);
        return [name, response.status];
      };
      const [type = ''] = Object.keys(operation.requestBody?.content ?? {});
      expect(await send('text/html', '<p>')).toEqual([name, 415]);
      expect(await send(type, ' '.repeat((1 << 20) + 1))).toEqual([name, 413]);
      if (type === 'application/json') expect(await send(type, '{"')).toEqual([name, 400]);
    }
  });
});

describe('an address', () => {
  it('that leads nowhere is a problem, and so is a method that is not there', async () => {
    const { ask } = service();
    for (const path of ['/', '/v1', '/v1/units/a/b/c/d', '/v2/units']) {
      const response = await ask('GET', path);
      expect(problemSchema.parse(await response.json())).toMatchObject({
        type: '/problems/route-unknown',
        status: 404,
      });
    }
    const response = await ask('PATCH', '/v1/units/u-17/visits');
    expect(response.headers.get('allow')).toBe('GET, HEAD, POST');
    expect(problemSchema.parse(await response.json())).toMatchObject({
      type: '/problems/method-not-allowed',
    });
  });
});
