import { createRoute } from '@hono/zod-openapi';
import * as z from 'zod';
import { StoreError } from '../../lib/store/errors.ts';
import { type Person, personSchema, preferencesSchema } from '../../lib/store/person.ts';
import { ROLES } from '../../lib/store/roles.ts';
import { idSchema } from '../../shared/ids.ts';
import { formatInstant } from '../../shared/time/instant.ts';
import { instantSchema } from '../../shared/time/instantSchema.ts';
import type { Member } from './access.ts';
import { type Api, json, jsonBody } from './api.ts';
import { companyUnknown } from './companyView.ts';
import { Problem } from './problems.ts';

const personView = personSchema.meta({ id: 'Person' });
const personParams = z.object({ personId: idSchema });
const givenPerson = personSchema.omit({ personId: true });

const meView = z
  .object({
    person: personView.nullable().describe('Null for a key, which may do what every role may'),
    company: z.object({ companyId: idSchema, name: z.string() }),
    now: instantSchema.describe('What time it is for the service; that of a demonstration may run faster'),
  })
  .meta({ id: 'Me' });

/** The people of a company, and how each likes things shown. */
export function peopleRoutes({ app, ports, access }: Api): void {
  const { store } = ports;

  const me = createRoute({
    method: 'get',
    path: '/v1/me',
    summary: 'Who is asking',
    ...access.company,
    responses: { 200: json(meView, 'The person and the company') },
  });
  app.openapi(me, async (c) => {
    const { companyId, person } = c.var.caller;
    const company = await store.company(companyId);
    if (!company) throw companyUnknown();
    return c.json(
      { person, company: { companyId, name: company.name }, now: formatInstant(ports.now()) },
      200,
    );
  });

  const prefer = createRoute({
    method: 'put',
    path: '/v1/me',
    summary: 'Say how one likes figures and times shown',
    ...access.person,
    request: {
      body: jsonBody(preferencesSchema, { units: 'metric', timeZone: 'Europe/Madrid', locale: 'es-ES' }),
    },
    responses: { 200: json(personView, 'The person') },
  });
  app.openapi(prefer, async (c) => {
    const { companyId, person } = c.var.caller;
    if (!person) throw new Problem('key-not-for-this', 'Sign in: a key has no preferences.');
    const { personId, mail, name, role, sms } = person;
    const next = { personId, mail, name, role, ...(sms && { sms }), ...c.req.valid('json') };
    await store.putPerson(companyId, next);
    return c.json(next, 200);
  });

  const list = createRoute({
    method: 'get',
    path: '/v1/people',
    summary: 'The people of the company',
    ...access.company,
    responses: { 200: json(z.object({ items: z.array(personView) }), 'All of them, by id') },
  });
  app.openapi(list, async (c) => {
    return c.json({ items: [...(await store.people(c.var.caller.companyId))] }, 200);
  });

  const put = createRoute({
    method: 'put',
    path: '/v1/people/{personId}',
    summary: 'Add or change somebody',
    description: `Roles are ${ROLES.join(', ')}. The address is what the identity provider knows them by.`,
    ...access.owner,
    request: {
      params: personParams,
      body: jsonBody(givenPerson, { mail: 'dana@fenwick.example', name: 'Dana Reyes', role: 'dispatcher' }),
    },
    responses: { 200: json(personView, 'The person') },
  });
  app.openapi(put, async (c) => {
    const { companyId } = c.var.caller;
    const person = { personId: c.req.valid('param').personId, ...c.req.valid('json') };
    const people = await store.people(companyId);
    keepAnOwner(c.var.caller, people, person);
    const namesake = people.find(
      ({ personId, mail }) => mail === person.mail && personId !== person.personId,
    );
    if (namesake) throw new Problem('person-of-another', `${person.mail} is that of ${namesake.personId}.`);
    await store.putPerson(companyId, person).catch((error: unknown) => {
      if (!(error instanceof StoreError) || error.code !== 'refused') throw error;
      throw new Problem('person-of-another', 'Use another address.');
    });
    // All of them: a change that was cut off may have left one behind.
    const before = people.filter(
      ({ personId, mail }) => personId === person.personId && mail !== person.mail,
    );
    for (const { mail } of before) await store.dropPerson(companyId, mail);
    return c.json(person, 200);
  });

  const drop = createRoute({
    method: 'delete',
    path: '/v1/people/{personId}',
    summary: 'Take somebody off',
    ...access.owner,
    request: { params: personParams },
    responses: { 204: { description: 'They can sign in no more' } },
  });
  app.openapi(drop, async (c) => {
    const { companyId } = c.var.caller;
    const { personId } = c.req.valid('param');
    const people = await store.people(companyId);
    const found = people.filter((each) => each.personId === personId);
    if (found.length === 0) throw new Problem('person-not-there', 'Look them up among GET /v1/people.');
    keepAnOwner(c.var.caller, people, { personId });
    for (const { mail } of found) await store.dropPerson(companyId, mail);
    return c.body(null, 204);
  });
}

/** People cannot leave their company without an owner; a key of it can. */
function keepAnOwner(
  caller: Member,
  people: readonly Person[],
  changed: { readonly personId: string; readonly role?: Person['role'] },
): void {
  const others = people.filter(({ personId, role }) => role === 'owner' && personId !== changed.personId);
  if (caller.person && changed.role !== 'owner' && others.length === 0)
    throw new Problem('last-owner', 'Make somebody else an owner first.');
}
