import type { Context } from 'hono';
import { Problem } from './problems.ts';

const MAX_BODY_BYTES = 1 << 20;
/** A larger body is read on to here and dropped: a client that is still sending would not hear why it is refused. */
const MAX_DROPPED_BYTES = 16 * MAX_BODY_BYTES;

/** Takes in the body of a request, up to a limit. */
export async function takeIn(c: Context): Promise<void> {
  const { body } = c.req.raw;
  if (!body) return;
  const chunks: Uint8Array[] = [];
  let bytes = 0;
  for await (const chunk of body) {
    bytes += chunk.length;
    if (bytes <= MAX_BODY_BYTES) chunks.push(chunk);
    else chunks.length = 0;
    if (bytes > MAX_DROPPED_BYTES) break;
  }
  if (bytes > MAX_BODY_BYTES) {
    throw new Problem(
      'body-too-large',
      `Send at most ${MAX_BODY_BYTES} bytes at a time, in several requests.`,
    );
  }
  c.req.raw = new Request(c.req.raw, { body: Buffer.concat(chunks) });
}

/**
 * The media type of a request's body, in lower case and without its parameters.
 *
 * @param taken the media types that the route takes; any other is refused
 */
export function mediaTypeOf<Type extends string>(c: Context, taken: readonly Type[]): Type {
  const [essence = '', ...parameters] = (c.req.header('content-type') ?? '').toLowerCase().split(';');
  const charset = parameters.map((each) => each.trim()).find((each) => each.startsWith('charset='));
  const type = taken.find((each) => each === essence.trim());
  if (type === undefined || (charset !== undefined && !/^charset="?utf-?8"?$/.test(charset))) {
    throw new Problem('media-type-unsupported', `Send the body, in UTF-8, as ${taken.join(' or ')}.`);
  }
  return type;
}

/** A request's body as text, without a byte order mark. */
export async function textOf(c: Context): Promise<string> {
  const bytes = await c.req.arrayBuffer();
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new Problem('body-not-utf-8', 'Send the body in UTF-8.');
  }
}
