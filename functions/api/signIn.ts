import { createRoute } from '@hono/zod-openapi';
import * as z from 'zod';
import { type Api, json } from './api.ts';
import type { Identity } from './identity.ts';

const signInView = z
  .object({ issuer: z.url(), clientId: z.string(), scope: z.string() })
  .meta({ id: 'SignIn' });

/** Where people sign in: an OpenID provider that the console sends them to. */
export function signInRoutes({ app }: Pick<Api, 'app'>, identity: Identity): void {
  const get = createRoute({
    method: 'get',
    path: '/v1/sign-in',
    summary: 'Where people sign in',
    responses: { 200: json(signInView, 'The OpenID provider and our client there') },
  });
  app.openapi(get, (c) => c.json(identity.signIn, 200));
}
