import { Body, type BodyGiven } from './body.ts';
import type { HeadersGiven } from './headers.ts';

export interface ResponseOptions {
  readonly status?: number;
  readonly statusText?: string;
  readonly headers?: HeadersGiven;
}

/** Statuses that go without a body (Fetch, "null body status"). */
const BODILESS: ReadonlySet<number> = new Set([101, 103, 204, 205, 304]);

/** An answer as the Fetch standard has it, as far as who makes and sends it sees it. */
export class PlainResponse extends Body {
  readonly status: number;
  readonly statusText: string;

  constructor(body?: BodyGiven, { status = 200, statusText = '', headers }: ResponseOptions = {}) {
    if (!Number.isInteger(status) || status < 200 || status > 599)
      throw new RangeError(`${status} is no status`);
    if (body !== undefined && body !== null && BODILESS.has(status))
      throw new TypeError(`${status} has no body`);
    super(body, headers);
    this.status = status;
    this.statusText = statusText;
  }

  get ok(): boolean {
    return this.status < 300;
  }

  clone(): PlainResponse {
    const { status, statusText, headers } = this;
    return new PlainResponse(this.twin(), { status, statusText, headers });
  }
}
