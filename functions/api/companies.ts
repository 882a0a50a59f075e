import { randomBytes } from 'node:crypto';
import { createRoute } from '@hono/zod-openapi';
import * as z from 'zod';
import { companySchema } from '../../lib/store/company.ts';
import { idSchema } from '../../shared/ids.ts';
import { hashOf, newSecret } from '../secrets.ts';
import { type Api, json, jsonBody } from './api.ts';
import { companyUnknown } from './companyView.ts';
import { Problem } from './problems.ts';

const companyParams = z.object({ companyId: idSchema });
const keyParams = companyParams.extend({ keyName: z.string().max(160) });
const newCompany = companySchema.pick({ companyId: true, name: true });
const keySchema = z.object({
  name: z.string(),
  key: z.string().describe('Goes behind Authorization: Bearer. Shown this once, and not kept'),
});

/** What the operator of the service does: makes companies and their keys. */
export function companiesRoutes({ app, ports: { store, now }, access }: Api): void {
  /** Before it is done, and among the acts of the company that it is done to: its people see who else has a way in. */
  const writeDown = (companyId: string, what: string) =>
    store.putAudited(companyId, { by: 'operator', at: now(), what, unitId: null, detail: null });

  /** A new key. No id has a tilde in it, so that no company's keys are another's. */
  const newKey = async (companyId: string): Promise<z.infer<typeof keySchema>> => {
    const name = `${companyId}~${randomBytes(6).toString('hex')}`;
    const secret = newSecret();
    await store.putPrincipal({ name, companyId, unitId: null, secretHash: hashOf(secret) });
    return { name, key: `${name}.${secret}` };
  };

  const list = createRoute({
    method: 'get',
    path: '/v1/companies',
    summary: 'All companies',
    ...access.operator,
    responses: { 200: json(z.object({ items: z.array(newCompany) }), 'The companies') },
  });
  app.openapi(list, async (c) => {
    const items = (await store.companies()).map(({ companyId, name }) => ({ companyId, name }));
    return c.json({ items }, 200);
  });

  const make = createRoute({
    method: 'post',
    path: '/v1/companies',
    summary: 'Make a company and its first key',
    ...access.operator,
    request: {
      body: jsonBody(newCompany, { companyId: 'tarn-softening', name: 'Tarn Softening' }),
    },
    responses: { 201: json(newCompany.extend(keySchema.pick({ key: true }).shape), 'The company') },
  });
  app.openapi(make, async (c) => {
    const { companyId, name } = c.req.valid('json');
    if (await store.company(companyId)) {
      throw new Problem('company-exists', 'Make another key for it, or choose another companyId.');
    }
    await writeDown(companyId, 'POST companies');
    await store.putCompany({ companyId, name, channels: [], rules: {} });
    const { key } = await newKey(companyId);
    return c.json({ companyId, name, key }, 201);
  });

  const makeKey = createRoute({
    method: 'post',
    path: '/v1/companies/{companyId}/keys',
    summary: 'Make another key of a company',
    ...access.operator,
    request: { params: companyParams },
    responses: { 201: json(keySchema, 'The key') },
  });
  app.openapi(makeKey, async (c) => {
    const { companyId } = c.req.valid('param');
    if (!(await store.company(companyId))) throw companyUnknown();
    await writeDown(companyId, `POST companies/${companyId}/keys`);
    return c.json(await newKey(companyId), 201);
  });

  const revokeKey = createRoute({
    method: 'delete',
    path: '/v1/companies/{companyId}/keys/{keyName}',
    summary: 'Revoke a key of a company',
    ...access.operator,
    request: { params: keyParams },
    responses: { 204: { description: 'It is valid no longer' } },
  });
  app.openapi(revokeKey, async (c) => {
    const { companyId, keyName } = c.req.valid('param');
    const principal = await store.principal(keyName);
    if (principal?.companyId === companyId && principal.unitId === null) {
      await writeDown(companyId, `DELETE companies/${companyId}/keys/${keyName}`);
      await store.dropPrincipal(keyName);
    }
    return c.body(null, 204);
  });
}
