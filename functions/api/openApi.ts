import { createRoute } from '@hono/zod-openapi';
import * as z from 'zod';
import { keysOf } from '../../shared/records.ts';
import { SECURITY_SCHEMES } from './access.ts';
import type { Api } from './api.ts';
import { PROBLEMS, problemSchema } from './problems.ts';

/** Not as a literal: the document has no schema of its own to be held against. */
const JSON_TYPE: string = 'application/json';

const INFO = {
  title: 'Brinebell',
  version: '1',
  description: 'What goes wrong is told as application/problem+json (RFC 9457); `type` names it.',
};

type Document = ReturnType<Api['app']['getOpenAPI31Document']>;
type Operation = NonNullable<NonNullable<Document['paths']>[string]['get']>;

/** The OpenAPI document, made from the routes and the schemas by which they judge. */
export function openApiRoutes({ app, published }: Api): void {
  const get = createRoute({
    method: 'get',
    path: '/openapi.json',
    summary: 'This document',
    responses: { 200: { description: 'OpenAPI 3.1', content: { [JSON_TYPE]: { schema: {} } } } },
  });
  for (const [name, description] of Object.entries(SECURITY_SCHEMES)) {
    app.openAPIRegistry.registerComponent('securitySchemes', name, {
      type: 'http',
      scheme: 'bearer',
      description,
    });
  }
  published.set('Problem', () => problemSchema);
  let document: Document | undefined;
  app.openapi(get, (c) => {
    document ??= documentOf(app, published);
    return c.json(document, 200);
  });
}

function documentOf(app: Api['app'], published: Api['published']): Document {
  for (const [name, schema] of published) {
    const { $schema: _, ...component } = z.toJSONSchema(schema(), { io: 'input' });
    app.openAPIRegistry.registerComponent('schemas', name, component as object);
  }
  return withProblems(app.getOpenAPI31Document({ openapi: '3.1.0', info: INFO }));
}

/** Tells of each operation the problems that its kind may answer with, so that no route has to. */
function withProblems(document: Document): Document {
  for (const [path, item] of Object.entries(document.paths ?? {})) {
    for (const operation of [item.get, item.put, item.post, item.delete]) {
      if (!operation) continue;
      operation.responses ??= {};
      for (const status of statusesOf(path, operation)) operation.responses[status] ??= responseOf(status);
    }
  }
  return document;
}

function statusesOf(path: string, { security, requestBody, parameters, responses }: Operation): number[] {
  return [
    ...(requestBody ? [400, 413, 415] : parameters ? [400] : []),
    ...(security ? [401, 403, 503] : []),
    ...(path.includes('{') || path === '/v1/company' || path.startsWith('/v1/accounts') ? [404] : []),
    ...(path === '/v1/companies' && requestBody ? [409] : []),
    ...(path === '/v1/people/{personId}' ? [409] : []),
    ...(path.endsWith('/credential') && responses?.['201'] ? [412, 422] : []),
    ...(path === '/v1/what-if' ? [404, 429] : []),
    500,
  ];
}

function responseOf(status: number) {
  const codes = keysOf(PROBLEMS).filter((code) => PROBLEMS[code].status === status);
  return {
    description: codes.map((code) => PROBLEMS[code].title).join('; or: '),
    content: { 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } } },
  };
}
