import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { bundle, handlers } from '../../../../infra/aws/bundle.js';
import { bundleSizes, sourcesAtStart } from '../../../../infra/aws/bundleSizes.js';
import { FUNCTIONS } from '../../../../infra/topology.ts';

/** What one may weigh when its function starts, bytes. */
const MOST_BYTES = 1_000_000;

let folder: string;
let built: Awaited<ReturnType<typeof bundle>>;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'brinebell-bundles-'));
  built = await bundle(handlers(), join(folder, 'aws'));
}, 180_000);
afterAll(() => rm(folder, { recursive: true }));

async function contentsOf(path: string): Promise<Record<string, string>> {
  const names = await readdir(path);
  return Object.fromEntries(
    await Promise.all(names.map(async (name) => [name, await readFile(join(path, name), 'latin1')] as const)),
  );
}

test('there is a bundle for each function of the topology, and each weighs at most a megabyte when it starts', () => {
  expect(Object.keys(built).sort()).toEqual(Object.keys(FUNCTIONS).sort());
  for (const [name, metafile] of Object.entries(built)) {
    expect(bundleSizes(metafile).start, name).toBeLessThanOrEqual(MOST_BYTES);
  }
});

test('a bundle holds what is run and nothing else: no maps, no path of this machine, no other way to credentials', async () => {
  for (const name of Object.keys(built)) {
    const files = await contentsOf(join(folder, 'aws', name));
    expect(
      Object.keys(files).every((file) => file.endsWith('.mjs')),
      name,
    ).toBe(true);
    for (const [file, text] of Object.entries(files)) {
      expect(text.includes(folder) || text.includes(process.cwd()), `${name}/${file}`).toBe(false);
    }
    const inputs = Object.keys(built[name]?.inputs ?? {}).join('\n');
    expect(inputs).not.toMatch(/credential-provider-(node|sso|ini|process|imds)|zod\/v4\/locales\/de/);
  }
});

test('zod is not loaded at the start of those that need it for nothing at first', () => {
  const without = ['api', 'archive', 'assess', 'compact', 'ingest', 'notify', 'report', 'sweep', 'trialPlan'];
  for (const name of without) {
    const sources = sourcesAtStart(built[name] ?? { inputs: {}, outputs: {} });
    expect(sources.length, name).toBeGreaterThan(100);
    expect(
      sources.filter((path) => path.includes('/node_modules/zod/')),
      name,
    ).toEqual([]);
  }
});

test('the same sources give the same bytes', async () => {
  await bundle({ api: 'infra/aws/handlers/api.ts' }, join(folder, 'again'));
  expect(await contentsOf(join(folder, 'again/api'))).toEqual(await contentsOf(join(folder, 'aws/api')));
});

test('only those who draw a sheet have what draws it, and only when they do', () => {
  const drawing = Object.keys(built).filter((name) =>
    Object.keys(built[name]?.inputs ?? {}).some((path) => path.includes('/pdfkit/')),
  );
  expect(drawing.sort()).toEqual(['api', 'notify', 'report']);
  // All that a function may load, so that it does not grow unseen: AWS Lambda takes 250 MB.
  for (const [name, metafile] of Object.entries(built)) {
    const { start, onDemand } = bundleSizes(metafile);
    expect(start + onDemand, name).toBeLessThanOrEqual(2_500_000);
  }
});
