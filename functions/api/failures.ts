import type { Context } from 'hono';
import { HTTPException } from 'hono/http-exception';
import type * as z from 'zod';
import { StoreError } from '../../lib/store/errors.ts';
import type { Ports } from '../ports.ts';
import type { Fault } from './problemSchema.ts';
import { answer, Problem } from './problems.ts';

/** Where the validators found what they object to. */
type Target = 'json' | 'param' | 'query' | 'header' | 'cookie' | 'form';

/** Answers with the problem that an error comes to. What is our own fault is logged, and not told of in detail. */
export function onFailure(error: unknown, c: Context, log: Ports['log']): Response {
  const problem = problemOf(error);
  if (problem) return answer(c, problem);
  log.error('a request failed', { method: c.req.method, route: routeOf(c), error: asError(error) });
  return answer(c, new Problem('fault', 'This is our fault. Try again later; if it stays, report it.'));
}

/** The address of a request as it may be logged: whoever has a household's token may answer for it. */
function routeOf(c: Context): string {
  return c.req.path.replace(/^\/answer\/.*/s, '/answer/…');
}

/** The problem of a request that does not fit its schema. */
export function invalid(target: Target, error: z.core.$ZodError): Problem {
  return new Problem('request-invalid', 'Mend what is listed under errors and send it again.', {
    errors: error.issues.map((issue) => faultOf(target, issue)),
  });
}

/** The problem of one member of a body, where only the handler can tell. */
export function invalidMember(path: readonly PropertyKey[], detail: string): Problem {
  return new Problem('request-invalid', 'Mend what is listed under errors and send it again.', {
    errors: [{ detail, pointer: pointerTo(path) }],
  });
}

function problemOf(error: unknown): Problem | undefined {
  if (error instanceof Problem) return error;
  if (error instanceof StoreError && error.retryable) {
    return new Problem('busy', 'Send the same request again in a few seconds.', {
      headers: { 'retry-after': '5' },
    });
  }
  if (error instanceof HTTPException && error.status === 400) {
    return new Problem('body-not-json', 'Send the body as JSON (RFC 8259).');
  }
  if (error instanceof HTTPException && error.status === 415) {
    return new Problem(
      'media-type-unsupported',
      'Send the body as application/json and say so in content-type.',
    );
  }
  return undefined;
}

function faultOf(target: Target, issue: z.core.$ZodIssue): Fault {
  const { path, message } = issue;
  if (target === 'json') return { detail: message, pointer: pointerTo(path) };
  const unknown = issue.code === 'unrecognized_keys' ? issue.keys : [];
  return { detail: message, parameter: unknown.length > 0 ? unknown.join(', ') : path.join('.') };
}

function pointerTo(path: readonly PropertyKey[]): string {
  const steps = path.map((step) => String(step).replaceAll('~', '~0').replaceAll('/', '~1'));
  return `#${steps.map((step) => `/${encodeURIComponent(step)}`).join('')}`;
}

function asError(error: unknown): Error {
  return error instanceof Error ? error : new Error(String(error));
}
