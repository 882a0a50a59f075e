import type { ProblemBody } from './types.ts';

/** What the service said instead of doing what was asked. `message` says what to do about it. */
export class ServiceProblem extends Error {
  /** Such as `/problems/role-not-for-this`; empty where something between us and the service answered. */
  readonly type: string;
  readonly title: string;
  readonly status: number;
  readonly faults: NonNullable<ProblemBody['errors']>;

  constructor({ type, title, status, detail, errors }: Omit<ProblemBody, 'type'> & { type: string }) {
    super(detail);
    this.type = type;
    this.title = title;
    this.status = status;
    this.faults = errors ?? [];
  }

  is(code: string): boolean {
    return this.type === `/problems/${code}`;
  }
}

/** Thrown where no answer came at all. */
export class ServiceUnreachable extends Error {
  constructor() {
    super('Check your connection. The console asks again by itself, and shows what it last knew until then.');
  }
}

/** Makes a problem of an answer that is none of success. */
export function problemOf(body: unknown, { status, statusText }: Response): ServiceProblem {
  if (isProblem(body)) return new ServiceProblem(body);
  const title = statusText || 'No answer of the service';
  return new ServiceProblem({ type: '', title, status, detail: 'Try again in a moment.' });
}

function isProblem(body: unknown): body is ProblemBody {
  return typeof body === 'object' && body !== null && 'type' in body && 'title' in body && 'detail' in body;
}
