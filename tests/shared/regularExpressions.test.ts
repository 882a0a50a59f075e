import { readdirSync, readFileSync } from 'node:fs';
import { isSafe } from 'redos-detector';
import { describe, expect, it } from 'vitest';
// Loaded beforehand, so that the expressions of its own are not taken for ours.
import 'zod';

const ROOT = new URL('../../shared/', import.meta.url);
const FILES = readdirSync(ROOT, { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.ts'));

/** Comments, texts and expressions, whichever begins first; the groups hold what an expression is made of. */
const TOKEN =
  /\/\*[\s\S]*?\*\/|\/\/.*|'(?:\\.|[^'\\\n])*'|"(?:\\.|[^"\\\n])*"|`(?:\\.|[^`\\])*`|(?<=(?:[(,=:[!&|?{};]|=>|return)\s*)\/((?:\\.|\[(?:\\.|[^\]\\\n])*\]|[^/\\[\n])+)\/([a-z]*)/g;

function literalsIn(source: string): RegExp[] {
  return [...source.matchAll(TOKEN)].flatMap(([, pattern, flags]) =>
    pattern === undefined ? [] : [new RegExp(pattern, flags)],
  );
}

/** The expressions that a file makes with `new RegExp` while it is loaded. */
async function builtBy(load: () => Promise<unknown>): Promise<RegExp[]> {
  const built: RegExp[] = [];
  const original = RegExp;
  globalThis.RegExp = new Proxy(original, {
    construct(target, parts, newTarget) {
      const made = Reflect.construct(target, parts, newTarget);
      built.push(made);
      return made;
    },
  });
  try {
    await load();
  } finally {
    globalThis.RegExp = original;
  }
  return built;
}

describe('the search for expressions', () => {
  it('finds them among comments, texts and divisions, and nothing else', () => {
    const source = [
      '/** see /not-this/ */ const a = 6 / 2 / 1; // nor /this/',
      "const b = ['/nor/this', /it's [/] one/u, `/nor this/`];",
      'return /\\/two/.test("/"); x = y.replace(/three/g, "");',
    ].join('\n');
    expect(literalsIn(source)).toEqual([/it's [/] one/u, /\/two/, /three/g]);
  });

  it('tells one that can be made to run for ever', () => {
    expect(isSafe(/^(a+)+$/).safe).toBe(false);
    expect(isSafe(/\s+$/).safe).toBe(false);
  });
});

describe('no expression of shared/ can be made to run for ever', () => {
  it('as far as it is written out', () => {
    const found = FILES.flatMap((file) => literalsIn(readFileSync(new URL(file, ROOT), 'utf8')));
    expect(found.length).toBeGreaterThan(0);
    expect(found.filter((expression) => !isSafe(expression).safe)).toEqual([]);
  });

  it('as far as it is put together', async () => {
    const built = await builtBy(() => Promise.all(FILES.map((file) => import(new URL(file, ROOT).href))));
    const sources = FILES.map((file) => readFileSync(new URL(file, ROOT), 'utf8')).join('\n');
    // Each is made while its file is loaded, and so is seen here.
    expect(built).toHaveLength([...sources.matchAll(/\bRegExp\(/g)].length);
    expect(built.filter((expression) => !isSafe(expression).safe)).toEqual([]);
  });
});
