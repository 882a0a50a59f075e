import { type HeadersGiven, PlainHeaders } from './headers.ts';

/** What a body may be given as. */
export type BodyGiven =
  | string
  | Uint8Array<ArrayBuffer>
  | ArrayBuffer
  | ReadableStream<Uint8Array<ArrayBuffer>>
  | null
  | undefined;

type Held = Uint8Array<ArrayBuffer> | ReadableStream<Uint8Array<ArrayBuffer>> | null;

/** What requests and answers have in common: headers, and a body that is read once. */
export class Body {
  readonly headers: PlainHeaders;
  #held: Held;
  #isUsed = false;

  constructor(given: BodyGiven, headers: HeadersGiven) {
    this.headers = new PlainHeaders(headers);
    // What a library has made of text may be an object of it.
    if (typeof given === 'string' || given instanceof String) {
      this.#held = new TextEncoder().encode(String(given));
      if (!this.headers.has('content-type')) this.headers.set('content-type', 'text/plain;charset=UTF-8');
    } else if (given === null || given === undefined) this.#held = null;
    else if (given instanceof ArrayBuffer) this.#held = new Uint8Array(given);
    else if (given instanceof Uint8Array || given instanceof ReadableStream) this.#held = given;
    else throw new TypeError('in bundles a body is text, bytes or a stream: see infra/aws/parts/web/body.ts');
  }

  /** As a stream, which is made when it is asked for. */
  get body(): ReadableStream<Uint8Array<ArrayBuffer>> | null {
    const held = this.#held;
    if (!(held instanceof Uint8Array)) return held;
    const stream = new ReadableStream<Uint8Array<ArrayBuffer>>({
      start(controller) {
        if (held.length > 0) controller.enqueue(held);
        controller.close();
      },
    });
    this.#held = stream;
    return stream;
  }

  get bodyUsed(): boolean {
    return this.#isUsed || (this.#held instanceof ReadableStream && this.#held.locked);
  }

  async bytes(): Promise<Uint8Array<ArrayBuffer>> {
    if (this.bodyUsed) throw new TypeError('the body has been read already');
    const held = this.#held;
    if (held === null) return new Uint8Array();
    this.#isUsed = true;
    if (held instanceof Uint8Array) return held;
    const chunks: Uint8Array[] = [];
    for await (const chunk of held) chunks.push(chunk);
    return Uint8Array.from(Buffer.concat(chunks));
  }

  async arrayBuffer(): Promise<ArrayBuffer> {
    const { buffer, byteOffset, byteLength } = await this.bytes();
    return buffer.slice(byteOffset, byteOffset + byteLength);
  }

  async text(): Promise<string> {
    return new TextDecoder().decode(await this.bytes());
  }

  async json(): Promise<unknown> {
    return JSON.parse(await this.text());
  }

  /** Forms are rare, and what reads them is the runtime's. */
  async formData(): Promise<FormData> {
    return this.#ofRuntime().formData();
  }

  async blob(): Promise<Blob> {
    return this.#ofRuntime().blob();
  }

  #ofRuntime(): Response {
    const type = this.headers.get('content-type');
    const { body } = this;
    this.#isUsed = true;
    return new globalThis.Response(body, { headers: type === null ? {} : { 'content-type': type } });
  }

  /** The body once more, for a copy of this. */
  protected twin(): BodyGiven {
    if (this.bodyUsed) throw new TypeError('the body has been read already');
    if (!(this.#held instanceof ReadableStream)) return this.#held;
    const [mine, theirs] = this.#held.tee();
    this.#held = mine;
    return theirs;
  }
}
