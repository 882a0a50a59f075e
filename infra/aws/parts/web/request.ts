import { Body, type BodyGiven } from './body.ts';
import type { HeadersGiven } from './headers.ts';

export interface RequestOptions {
  readonly method?: string;
  readonly headers?: HeadersGiven;
  readonly body?: BodyGiven;
  readonly signal?: AbortSignal;
}

/** Methods that are written in capitals however they are given; and those that no request may have (Fetch, "methods"). */
const CAPITALS = /^(?:delete|get|head|options|post|put)$/i;
const FORBIDDEN = /^(?:connect|trace|track)$/i;
const BODILESS = /^(?:GET|HEAD)$/;

/** A request as the Fetch standard has it, as far as who answers it sees it. */
export class PlainRequest extends Body {
  readonly url: string;
  readonly method: string;
  #signal: AbortSignal | undefined;

  constructor(from: string | URL | PlainRequest, options: RequestOptions = {}) {
    const other = from instanceof PlainRequest ? from : undefined;
    const method = methodOf(options.method ?? other?.method ?? 'GET');
    const given = options.body ?? undefined;
    if (given !== undefined && BODILESS.test(method)) throw new TypeError(`${method} has no body`);
    super(given ?? other?.body, options.headers ?? other?.headers);
    this.method = method;
    this.url = other?.url ?? urlOf(String(from));
    this.#signal = options.signal ?? other?.signal;
  }

  /** Tells of nothing where none was given: who asked through API Gateway cannot be heard to go. */
  get signal(): AbortSignal {
    this.#signal ??= new AbortController().signal;
    return this.#signal;
  }

  clone(): PlainRequest {
    const { url, method, headers } = this;
    return new PlainRequest(url, { method, headers, body: this.twin(), signal: this.signal });
  }
}

function methodOf(method: string): string {
  if (!/^[!#$%&'*+\-.^_`|~\dA-Za-z]+$/.test(method) || FORBIDDEN.test(method)) {
    throw new TypeError(`${method} is no method`);
  }
  return CAPITALS.test(method) ? method.toUpperCase() : method;
}

function urlOf(given: string): string {
  const url = new URL(given);
  if (url.username !== '' || url.password !== '') throw new TypeError('an address holds no credentials');
  return url.href;
}
