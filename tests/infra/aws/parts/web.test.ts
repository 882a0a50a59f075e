import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as ours from '../../../../infra/aws/parts/web/inBundles.ts';

/** What the runtime itself does is what is right: Node's own types of the web, by the Fetch standard. */
const theirs = { Headers, Request, Response };

const name = fc.constantFrom(
  'Accept',
  'accept',
  'Set-Cookie',
  'set-cookie',
  'Cookie',
  'X-One',
  'x-two',
  'b@d',
  '',
);
const value = fc.oneof(
  fc.string(),
  fc.constantFrom(
    ' around\t',
    '',
    'a, b',
    'of two\r\nlines',
    'zero \u0000',
    'é',
    '→',
    '\r\nbefore',
    'after\n',
  ),
);
const act = fc.oneof(
  fc.tuple(fc.constantFrom('append', 'set'), name, value),
  fc.tuple(fc.constantFrom('delete', 'get', 'has'), name),
);
const body = fc.oneof(
  fc.constant(undefined),
  fc.constant(null),
  fc.string({ unit: 'binary' }),
  fc.string().map(objectOf),
  fc.uint8Array({ maxLength: 50 }).map((bytes) => Uint8Array.from(bytes)),
);
const pairs = fc.array(
  fc.tuple(fc.constantFrom('accept', 'Content-Type', 'Set-Cookie'), fc.constantFrom('a', 'text/x')),
);

/** Hono gives pages as such objects. The types of the runtime know them not, but take them. */
function objectOf(text: string): string {
  return Object(text);
}

interface Init {
  readonly method: string;
  readonly headers: [string, string][];
  readonly body?: string | Uint8Array<ArrayBuffer> | null;
}

/** What comes of some work, an error by its name alone. */
async function outcome(work: () => unknown): Promise<unknown> {
  try {
    return await work();
  } catch (error) {
    return error instanceof Error ? error.name : error;
  }
}

describe('types of the web in bundles do as those of the runtime do', () => {
  it('headers', async () => {
    const play = (
      made: Pick<Headers, 'append' | 'set' | 'delete' | 'get' | 'has' | 'getSetCookie' | 'entries'>,
      acts: readonly (readonly string[])[],
    ) =>
      Promise.all(
        acts.map(([what = '', key = '', said = '']) =>
          outcome(() => {
            if (what === 'append') return made.append(key, said);
            if (what === 'set') return made.set(key, said);
            if (what === 'delete') return made.delete(key);
            return what === 'get' ? made.get(key) : made.has(key);
          }),
        ),
      );
    await fc.assert(
      fc.asyncProperty(fc.array(act), async (acts) => {
        const [mine, other] = [new ours.Headers(), new theirs.Headers()];
        expect(await play(mine, acts)).toEqual(await play(other, acts));
        expect([...mine]).toEqual([...other]);
        expect(mine.getSetCookie()).toEqual(other.getSetCookie());
        expect([...new ours.Headers(mine)]).toEqual([...new theirs.Headers(other)]);
        expect([...new theirs.Headers([...mine])]).toEqual([...new theirs.Headers([...other])]);
        const seen: unknown[] = [];
        mine.forEach((said, key) => {
          seen.push([key, said]);
        });
        expect(seen).toEqual([...other]);
        expect([[...mine.keys()], [...mine.values()]]).toEqual([[...other.keys()], [...other.values()]]);
      }),
    );
  });

  it('requests', async () => {
    const method = fc.constantFrom('GET', 'post', 'HEAD', 'Put', 'patch', 'DELETE', 'TRACE', 'no method');
    const url = fc.constantFrom(
      'https://a.example',
      'https://a.example/b c?d=é#e',
      'https://u:p@a.example/',
      'nowhere',
    );
    const made = [
      (at: string, init: Init) => {
        const one = new ours.Request(at, init);
        return { one, remade: () => new ours.Request(one.clone(), { body: 'of its own' }) };
      },
      (at: string, init: Init) => {
        const one = new theirs.Request(at, init);
        return { one, remade: () => new theirs.Request(one.clone(), { body: 'of its own' }) };
      },
    ];
    const told = (make: (typeof made)[number], at: string, init: Init) =>
      outcome(async () => {
        const { one, remade } = make(at, init);
        const twin = one.clone();
        const other = await outcome(async () => [[...remade().headers], await remade().text()]);
        return {
          ...{ url: one.url, method: one.method, headers: [...one.headers], isThere: one.body !== null },
          ...{ twin: await twin.text(), text: await one.text(), again: await outcome(() => one.text()) },
          ...{ other, used: one.bodyUsed, aborted: one.signal.aborted },
        };
      });
    await fc.assert(
      fc.asyncProperty(url, method, pairs, body, async (at, how, headers, content) => {
        const init = { method: how, headers, ...(content !== undefined && { body: content }) };
        const [mine, other] = await Promise.all(made.map((make) => told(make, at, init)));
        expect(mine).toEqual(other);
      }),
    );
  });

  it('answers', async () => {
    const status = fc.constantFrom(undefined, 200, 201, 204, 304, 404, 599, 600, 99);
    const told = async (
      { Response: Made }: typeof ours | typeof theirs,
      content: string | Uint8Array<ArrayBuffer> | null | undefined,
      init: { status?: number; headers: [string, string][] },
    ) =>
      outcome(async () => {
        const made = new Made(content, init);
        const copy = new Made(made.clone().body, made);
        const bytes = Buffer.from(await made.clone().arrayBuffer()).toString('hex');
        const chunks: Uint8Array[] = [];
        for await (const chunk of made.clone().body ?? []) chunks.push(chunk);
        return {
          ...{ status: made.status, ok: made.ok, headers: [...made.headers], bytes, text: await made.text() },
          ...{
            chunks: Buffer.concat(chunks).toString('hex'),
            copied: await copy.text(),
            used: made.bodyUsed,
          },
        };
      });
    await fc.assert(
      fc.asyncProperty(body, status, pairs, async (content, code, headers) => {
        const init = { ...(code !== undefined && { status: code }), headers };
        expect(await told(ours, content, init)).toEqual(await told(theirs, content, init));
      }),
    );
  });

  it('forms and files, which are read by the runtime', async () => {
    const init = {
      method: 'POST',
      headers: { 'content-type': 'application/x-www-form-urlencoded' },
      body: 'a=1&a=2&b=%C3%A9',
    };
    const form = await new ours.Request('https://a.example', init).formData();
    expect([...form.entries()]).toEqual([
      ...(await new theirs.Request('https://a.example', init).formData()).entries(),
    ]);
    expect(await (await new ours.Response('a file').blob()).text()).toBe('a file');
  });
});
