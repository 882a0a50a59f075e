import { OpenApiGeneratorV31 } from '@asteasolutions/zod-to-openapi';
import * as z from 'zod';
import { keysOf } from '../../shared/records.ts';
import type { Api } from './api.ts';
import { PROBLEMS } from './problems.ts';

const INFO = {
  title: 'Brinebell',
  version: '1',
  description: 'What goes wrong is told as application/problem+json (RFC 9457); `type` names it.',
};

type Document = ReturnType<OpenApiGeneratorV31['generateDocument']>;
type Operation = NonNullable<NonNullable<Document['paths']>[string]['get']>;

/** The document of all routes and published schemas of an app. */
export async function documentOf(app: Api['app'], published: Api['published']): Promise<Document> {
  const registry = app.openAPIRegistry;
  for (const [name, schema] of published) {
    const { $schema: _, ...component } = z.toJSONSchema(await schema(), { io: 'input' });
    registry.registerComponent('schemas', name, component as object);
  }
  // As `app.getOpenAPI31Document` would, with what makes the document loaded here and nowhere else.
  const generator = new OpenApiGeneratorV31(registry.definitions);
  return withProblems(generator.generateDocument({ openapi: '3.1.0', info: INFO }));
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
