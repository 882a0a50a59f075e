import { isDeepStrictEqual } from 'node:util';
import { createRoute } from '@hono/zod-openapi';
import * as z from 'zod';
import type { Company } from '../../lib/store/company.ts';
import { recordPages } from '../everything.ts';
import { changed } from '../send.ts';
import { type Api, json, jsonBody } from './api.ts';
import {
  companyUnknown,
  companyView,
  givenChannel,
  givenRules,
  maskedCompany,
  withSecrets,
} from './companyView.ts';

const givenCompany = z.strictObject({
  name: z.string().min(1).max(128),
  channels: z.array(givenChannel).max(10).default([]),
  rules: givenRules.default({}),
});

/** What a company says of itself. */
export function companyRoutes({ app, ports, access }: Api): void {
  const { store, queues } = ports;

  /** Keeps a company; if its rules are others than before, has every unit looked at anew. */
  const keep = async (company: Company, before: Company | undefined) => {
    await store.putCompany(company);
    if (isDeepStrictEqual(before?.rules ?? {}, company.rules)) return;
    for await (const records of recordPages(store, company.companyId)) {
      if (records.length > 0) await queues.assess.send(records.map(changed));
    }
  };

  const get = createRoute({
    method: 'get',
    path: '/v1/company',
    summary: 'The company of the key',
    ...access.company,
    responses: { 200: json(companyView, 'The company, without its secrets') },
  });
  app.openapi(get, async (c) => {
    const company = await store.company(c.var.caller.companyId);
    if (!company) throw companyUnknown();
    return c.json(maskedCompany(company), 200);
  });

  const put = createRoute({
    method: 'put',
    path: '/v1/company',
    summary: 'Change the name, the channels of notices and the rules of the company',
    description:
      'A webhook without a secret keeps the one that its url has had. If the rules change, every unit is looked at anew.',
    ...access.owner,
    request: {
      body: jsonBody(givenCompany, {
        name: 'Fenwick Water',
        channels: [{ type: 'mail', to: ['desk@fenwick.example'] }],
        rules: { overrun: { raise: 0.97 } },
      }),
    },
    responses: { 200: json(companyView, 'The company, without its secrets') },
  });
  app.openapi(put, async (c) => {
    const { companyId } = c.var.caller;
    const given = c.req.valid('json');
    const before = await store.company(companyId);
    const company = { ...given, companyId, channels: withSecrets(given.channels, before?.channels ?? []) };
    await keep(company, before);
    return c.json(maskedCompany(company), 200);
  });

  const putRules = createRoute({
    method: 'put',
    path: '/v1/company/rules',
    summary: 'Put rules in force, and leave all else of the company as it is',
    description:
      'They stand instead of what the company has overridden so far. Every unit is looked at anew, its past too. POST /v1/rule-trials shows beforehand what they do.',
    ...access.owner,
    request: { body: jsonBody(givenRules, { overrun: { raise: 0.97 } }) },
    responses: { 200: json(companyView, 'The company, without its secrets') },
  });
  app.openapi(putRules, async (c) => {
    const before = await store.company(c.var.caller.companyId);
    if (!before) throw companyUnknown();
    const company = { ...before, rules: c.req.valid('json') };
    await keep(company, before);
    return c.json(maskedCompany(company), 200);
  });
}
