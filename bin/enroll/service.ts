import { setTimeout as pause } from 'node:timers/promises';
import type * as z from 'zod';
import { CommandError, oneLine } from '../errors.ts';
import { problemSchema } from './answers.ts';

/** A service that is busy, or away for a moment, is asked again: about a minute in all. */
const MOST_TRIES = 9;
const FIRST_PAUSE_MS = 250;
const LONGEST_PAUSE_MS = 15_000;
const ANSWER_WITHIN_MS = 30_000;
const BUSY = new Set([429, 502, 503, 504]);

/** What the service refuses about one unit; others may do better. */
export class RefusedError extends Error {
  readonly type: string;

  constructor(type: string, message: string) {
    super(message);
    this.type = type;
  }
}

interface Request {
  readonly method: 'GET' | 'PUT' | 'POST' | 'DELETE';
  readonly path: string;
  readonly body?: string;
  /** Goes with the first try alone: after that nobody knows whether the one before was done. */
  readonly onlyIfNone?: boolean;
  /** By default as often as a service may need that is busy. */
  readonly tries?: number;
}

/** The service's API, asked with a company's key. */
export class Service {
  readonly #url: string;
  readonly #key: string;

  /** @param url of the service, without `/v1` */
  constructor(url: string, key: string) {
    this.#url = url.replace(/\/+$/, '');
    this.#key = key;
  }

  /**
   * Asks, again and again while the service is busy or cannot be reached.
   *
   * @throws RefusedError if it refuses; CommandError `key-refused`, or `service-unreachable`, if there is no use in going on
   */
  async ask<Schema extends z.ZodType>(request: Request, schema: Schema): Promise<z.infer<Schema>> {
    const { tries = MOST_TRIES } = request;
    for (let attempt = 1; ; attempt++) {
      const outcome = await this.#try(request, attempt === 1);
      if ('answer' in outcome) {
        const { ok, status, text } = outcome.answer;
        if (ok) return this.#parsed(text, schema);
        if (!BUSY.has(status)) throw this.#refusal(status, text);
      }
      if (attempt >= tries) throw unreachable(this.#url, outcome.why);
      await pause(outcome.waitMs ?? pauseAfter(attempt));
    }
  }

  async #try({ method, path, body, onlyIfNone }: Request, isFirst: boolean) {
    try {
      const response = await fetch(this.#url + path, {
        method,
        headers: {
          authorization: `Bearer ${this.#key}`,
          ...(body !== undefined && { 'content-type': 'application/json' }),
          ...(onlyIfNone && isFirst && { 'if-none-match': '*' }),
        },
        ...(body !== undefined && { body }),
        redirect: 'error',
        signal: AbortSignal.timeout(ANSWER_WITHIN_MS),
      });
      const text = await response.text();
      const { ok, status, headers } = response;
      return {
        answer: { ok, status, text },
        why: `it answers ${status}`,
        waitMs: waitAskedFor(headers.get('retry-after')),
      };
    } catch (error) {
      const cause = error instanceof Error && error.cause instanceof Error ? error.cause : error;
      return { why: cause instanceof Error ? oneLine(cause.message) : String(cause), waitMs: undefined };
    }
  }

  #parsed<Schema extends z.ZodType>(text: string, schema: Schema): z.infer<Schema> {
    const parsed = schema.safeParse(jsonOf(text));
    if (!parsed.success) throw foreign(this.#url);
    return parsed.data;
  }

  #refusal(status: number, text: string): Error {
    const problem = problemSchema.safeParse(jsonOf(text)).data;
    if (!problem || problem.type === '/problems/route-unknown') return foreign(this.#url);
    if (status === 401 || problem.type === '/problems/key-not-for-this') {
      return new CommandError('key-refused', `${this.#url}: ${problem.title}`, problem.detail);
    }
    return new RefusedError(problem.type, `${problem.title}: ${problem.detail}`);
  }
}

function jsonOf(text: string): unknown {
  try {
    return text === '' ? undefined : JSON.parse(text);
  } catch {
    return undefined;
  }
}

/** Some chance in it, so that many that were refused at once do not come back at once. */
function pauseAfter(attempt: number): number {
  const most = Math.min(LONGEST_PAUSE_MS, FIRST_PAUSE_MS * 2 ** attempt);
  return most * (0.5 + Math.random() / 2);
}

function waitAskedFor(retryAfter: string | null): number | undefined {
  const seconds = Number(retryAfter ?? Number.NaN);
  return Number.isFinite(seconds) && seconds >= 0 ? Math.min(seconds * 1000, 60_000) : undefined;
}

function unreachable(url: string, why: string): CommandError {
  return new CommandError(
    'service-unreachable',
    `${url}: ${why}`,
    'See that it runs and that --service is its address; then do the same again, it goes on from there.',
  );
}

function foreign(url: string): CommandError {
  return new CommandError(
    'service-unreachable',
    `${url}: what it answers is not of this service`,
    'Give its address as --service, without /v1.',
  );
}
