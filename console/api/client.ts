import createClient, { type Middleware } from 'openapi-fetch';
import { signInNeeded } from '../signIn/needed.ts';
import { accessToken } from '../signIn/session.ts';
import type { paths } from './generated/api.d.ts';
import { problemOf, ServiceUnreachable } from './problem.ts';

const asPerson: Middleware = {
  onRequest({ request }) {
    const token = accessToken();
    if (token) request.headers.set('authorization', `Bearer ${token}`);
    return request;
  },
  async onResponse({ response }) {
    if (response.ok) return response;
    if (response.status === 401) signInNeeded();
    throw problemOf(await response.json().catch(() => undefined), response);
  },
  onError({ error }) {
    // What `fetch` throws for any network that fails; a request that we gave up ourselves stays what it is.
    return error instanceof TypeError ? new ServiceUnreachable() : undefined;
  },
};

/**
 * Asks the service. The types are those of its OpenAPI document.
 *
 * @throws ServiceProblem if it refuses, ServiceUnreachable if it does not answer
 */
export const service = createClient<paths>({ baseUrl: '/' });
service.use(asPerson);
