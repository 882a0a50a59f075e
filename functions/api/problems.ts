import type { Context } from 'hono';
import type { ContentfulStatusCode } from 'hono/utils/http-status';
import type { Fault } from './problemSchema.ts';

interface Kind {
  readonly status: ContentfulStatusCode;
  readonly title: string;
}

/** Every problem that the API answers with, by its stable code. */
export const PROBLEMS = {
  'request-invalid': { status: 400, title: 'The request does not fit its schema' },
  'body-not-json': { status: 400, title: 'The body is not JSON' },
  'body-not-utf-8': { status: 400, title: 'The body is not UTF-8' },
  'batch-not-an-array': { status: 400, title: 'The batch is not a JSON array' },
  'registry-unreadable': { status: 400, title: 'The registry cannot be read' },
  'cursor-invalid': { status: 400, title: 'The cursor is none of ours' },
  'question-contradicts': { status: 400, title: 'That cannot be imagined at once' },
  'key-missing': { status: 401, title: 'A key is needed' },
  'key-wrong': { status: 401, title: 'The key is not valid' },
  'sign-in-over': { status: 401, title: 'The sign-in is not valid, or is over' },
  'person-unknown': { status: 403, title: 'Nobody of that address works for a company here' },
  'role-not-for-this': { status: 403, title: 'The role is not for this' },
  'key-not-for-this': { status: 403, title: 'The key is not for this' },
  'route-unknown': { status: 404, title: 'There is nothing at this address' },
  'unit-unknown': { status: 404, title: 'There is no such unit' },
  'alert-unknown': { status: 404, title: 'There is no such alert' },
  'visit-unknown': { status: 404, title: 'There is no such visit' },
  'person-not-there': { status: 404, title: 'There is no such person' },
  'account-unknown': { status: 404, title: 'There is no account of that region or month' },
  'trial-unknown': { status: 404, title: 'There is no such trial, or it is not done' },
  'region-unknown': { status: 404, title: 'There is no such region' },
  'month-unknown': { status: 404, title: 'The region has no account of that month' },
  'company-unknown': { status: 404, title: 'There is no such company' },
  'method-not-allowed': { status: 405, title: 'The method does not exist here' },
  'person-of-another': { status: 409, title: 'The address is somebody else’s' },
  'last-owner': { status: 409, title: 'The company would have no owner' },
  'company-exists': { status: 409, title: 'The company exists already' },
  'credential-exists': { status: 412, title: 'The unit’s meter has a credential already' },
  'body-too-large': { status: 413, title: 'The body is too large' },
  'event-too-large': { status: 413, title: 'The event is too large' },
  'too-many-events': { status: 413, title: 'There are too many events in one request' },
  'at-work-already': { status: 429, title: 'One such question is being worked on' },
  'media-type-unsupported': { status: 415, title: 'The media type is not taken here' },
  'unit-id-too-long': { status: 422, title: 'The broker cannot name a meter by such long ids' },
  fault: { status: 500, title: 'The service failed' },
  busy: { status: 503, title: 'The service cannot do it now' },
} as const satisfies Record<string, Kind>;

export type ProblemCode = keyof typeof PROBLEMS;

/** Thrown by whatever serves a request; becomes the answer. `detail` says what to do. */
export class Problem extends Error {
  readonly code: ProblemCode;
  readonly errors: readonly Fault[] | undefined;
  readonly headers: Readonly<Record<string, string>>;

  constructor(
    code: ProblemCode,
    detail: string,
    { errors, headers = {} }: { errors?: readonly Fault[]; headers?: Readonly<Record<string, string>> } = {},
  ) {
    super(detail);
    this.code = code;
    this.errors = errors;
    this.headers = headers;
  }
}

/** The answer that tells of a problem. */
export function answer(c: Context, { code, message, errors, headers }: Problem): Response {
  const { status, title } = PROBLEMS[code];
  const body = { type: typeOf(code), title, status, detail: message, ...(errors && { errors }) };
  return c.body(JSON.stringify(body), status, { ...headers, 'content-type': 'application/problem+json' });
}

/** The `type` of a problem, as it travels. */
export function typeOf(code: ProblemCode): string {
  return `/problems/${code}`;
}
