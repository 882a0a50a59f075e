import { execFileSync } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { isBuiltin } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { expect, test } from 'vitest';

const root = fileURLToPath(new URL('..', import.meta.url));

/** The layers of the house and what each may import beside itself. */
const MAY_IMPORT: Readonly<Record<string, readonly string[]>> = {
  shared: [],
  lib: ['shared'],
  bin: ['infra', 'lib', 'shared'],
  functions: ['lib', 'shared'],
  // Of the console only the headers that go with its files.
  infra: ['console/csp.ts', 'functions', 'lib', 'shared'],
  console: ['lib', 'shared'],
};

/** What the compiler is asked to look at: the console is a program of its own, for the browser. */
const PROGRAMS = ['.', 'console'];

function layerOf(path: string): string {
  return path.split('/')[0] ?? '';
}

test('imports run from bin, infra and functions to lib, and from there to shared; the console’s too', () => {
  // The compiler sees imports of types, which are gone from what is built.
  const tsc = join(root, 'node_modules/.bin/tsc');
  const explained = PROGRAMS.map((program) =>
    execFileSync(tsc, ['-p', program, '--explainFiles', '--noCheck'], {
      cwd: root,
      encoding: 'utf8',
      maxBuffer: 1 << 26,
    }),
  ).join('\n');
  const imports = [...explained.matchAll(/Imported via ['"](\.[^'"]+)['"] from file '([^']+)'/g)].map(
    ([, specifier = '', importer = '']) => ({ importer, imported: join(dirname(importer), specifier) }),
  );
  const layered = imports.filter(({ importer }) => layerOf(importer) in MAY_IMPORT);
  expect(new Set(layered.map(({ importer }) => layerOf(importer)))).toEqual(
    new Set(readdirSync(root).filter((name) => name in MAY_IMPORT)),
  );
  const upwards = layered.filter(({ importer, imported }) => {
    const from = layerOf(importer);
    const to = layerOf(imported);
    const allowed = MAY_IMPORT[from] ?? [];
    return to !== from && to !== 'package.json' && !allowed.includes(to) && !allowed.includes(imported);
  });
  expect(upwards).toEqual([]);
});

test('shared, and lib but for its adapters, use nothing of node', async () => {
  const entryPoints = ['shared', 'lib'].flatMap((layer) =>
    readdirSync(join(root, layer), { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.ts'))
      .map((name) => join(layer, name)),
  );
  const { metafile } = await build({
    absWorkingDir: root,
    entryPoints,
    bundle: true,
    packages: 'external',
    platform: 'node',
    format: 'esm',
    outdir: 'dist',
    metafile: true,
    write: false,
  });
  const inputs = Object.entries(metafile.inputs).filter(([path]) => !/^lib\/(store|channels)\//.test(path));
  expect(inputs.length).toBeGreaterThan(20);
  const impure = inputs.flatMap(([path, { imports }]) =>
    imports.filter(({ path: name }) => isBuiltin(name)).map(({ path: name }) => `${path} imports ${name}`),
  );
  expect(impure).toEqual([]);
});

test('the console takes along what runs in a browser, and no schema: the service judges', async () => {
  const { metafile } = await build({
    absWorkingDir: root,
    entryPoints: ['console/app/main.tsx'],
    bundle: true,
    packages: 'external',
    external: ['virtual:*'],
    jsx: 'automatic',
    format: 'esm',
    outdir: 'dist',
    metafile: true,
    write: false,
  });
  const inputs = Object.entries(metafile.inputs);
  expect(inputs.length).toBeGreaterThan(50);
  expect(inputs.map(([path]) => path).filter((path) => !/^(console|lib|shared)\//.test(path))).toEqual([]);
  const unwanted = inputs.flatMap(([path, { imports }]) =>
    imports
      .filter(({ path: name }) => /^zod\b/.test(name) || isBuiltin(name))
      .map(({ path: name }) => `${path} imports ${name}`),
  );
  expect(unwanted).toEqual([]);
});
