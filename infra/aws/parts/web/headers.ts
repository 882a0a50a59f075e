/** Names: tokens of RFC 9110, section 5.6.2. */
const NAME = /^[!#$%&'*+\-.^_`|~\dA-Za-z]+$/;
/** What stands around a value and is no part of it; and what no value may have (Fetch, "header value"). */
const AROUND = /^[\t\n\r ]+|[\t\n\r ]+$/g;
const NO_VALUE = /[\0\n\r\u0100-\uFFFF]/;
const COOKIE = 'set-cookie';

/** What headers may be made of: others, pairs, or values by name. */
export type HeadersGiven =
  | Iterable<readonly [name: string, value: string]>
  | Readonly<Record<string, string>>
  | null
  | undefined;

/** Headers as the Fetch standard has them: by name in small letters, in the order of names, several values in one. */
export class PlainHeaders {
  readonly #values = new Map<string, string[]>();

  constructor(given?: HeadersGiven) {
    if (given === undefined || given === null) return;
    const pairs = isIterable(given) ? given : Object.entries(given);
    for (const [name, value] of pairs) this.append(name, value);
  }

  append(name: string, value: string): void {
    const key = keyOf(name);
    const clean = cleaned(value);
    const values = this.#values.get(key);
    if (values) values.push(clean);
    else this.#values.set(key, [clean]);
  }

  set(name: string, value: string): void {
    this.#values.set(keyOf(name), [cleaned(value)]);
  }

  get(name: string): string | null {
    const key = keyOf(name);
    const values = this.#values.get(key);
    return values ? joined(key, values) : null;
  }

  getSetCookie(): string[] {
    return [...(this.#values.get(COOKIE) ?? [])];
  }

  has(name: string): boolean {
    return this.#values.has(keyOf(name));
  }

  delete(name: string): void {
    this.#values.delete(keyOf(name));
  }

  forEach(callback: (value: string, name: string, headers: this) => void): void {
    for (const [name, value] of this) callback(value, name, this);
  }

  *entries(): Generator<[name: string, value: string]> {
    for (const name of [...this.#values.keys()].sort()) {
      const values = this.#values.get(name) ?? [];
      if (name !== COOKIE) yield [name, joined(name, values)];
      else for (const value of values) yield [name, value];
    }
  }

  *keys(): Generator<string> {
    for (const [name] of this) yield name;
  }

  *values(): Generator<string> {
    for (const [, value] of this) yield value;
  }

  [Symbol.iterator](): Generator<[name: string, value: string]> {
    return this.entries();
  }
}

function isIterable(
  given: NonNullable<HeadersGiven>,
): given is Iterable<readonly [name: string, value: string]> {
  return Symbol.iterator in given;
}

function keyOf(name: string): string {
  if (!NAME.test(name)) throw new TypeError(`${name} is no name of a header`);
  return name.toLowerCase();
}

function cleaned(value: string): string {
  const clean = String(value).replace(AROUND, '');
  if (NO_VALUE.test(clean)) throw new TypeError('a header has a letter that no header may have');
  return clean;
}

function joined(name: string, values: readonly string[]): string {
  return values.join(name === 'cookie' ? '; ' : ', ');
}
