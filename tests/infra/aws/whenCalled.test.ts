import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { expect, it } from 'vitest';
import { whenCalled } from '../../../infra/aws/whenCalled.js';

it('a library is run when its function is first called: not before, and once', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'brinebell-when-called-'));
  try {
    await writeFile(
      join(folder, 'library.cjs'),
      'process.env.RUNS = String(Number(process.env.RUNS ?? 0) + 1);\nmodule.exports = (a, b, c) => [a, b, c];\n',
    );
    await writeFile(
      join(folder, 'entry.js'),
      "import given from './library.cjs';\nexport const runs = () => process.env.RUNS;\nexport { given };\n",
    );
    const outfile = join(folder, 'bundle.mjs');
    await build({
      absWorkingDir: folder,
      entryPoints: ['entry.js'],
      bundle: true,
      platform: 'node',
      format: 'esm',
      plugins: [whenCalled(/library\.cjs$/)],
      outfile,
    });
    const { given, runs } = await import(pathToFileURL(outfile).href);
    expect(runs()).toBeUndefined();
    expect([given(1, 2, 3), given(4, 5, 6)]).toEqual([
      [1, 2, 3],
      [4, 5, 6],
    ]);
    expect(runs()).toBe('1');
  } finally {
    delete process.env.RUNS;
    await rm(folder, { recursive: true });
  }
});
