import { createRoute } from '@hono/zod-openapi';
import { once } from '../../shared/once.ts';
import { SECURITY_SCHEMES } from './access.ts';
import type { Api } from './api.ts';
import { problemSchema } from './problemSchema.ts';

/** Not as a literal: the document has no schema of its own to be held against. */
const JSON_TYPE: string = 'application/json';

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
  const document = once(async () => {
    const { documentOf } = await import('./openApiDocument.ts');
    return documentOf(app, published);
  });
  app.openapi(get, async (c) => c.json(await document(), 200));
}
