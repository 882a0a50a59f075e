/**
 * Stand in a bundle for the runtime's own types of the web, whose first use loads all that fetches, a fifth of a bare start. Who
 * answers a request needs little of them.
 */
export { PlainHeaders as Headers } from './headers.ts';
export { PlainRequest as Request } from './request.ts';
export { PlainResponse as Response } from './response.ts';
