import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Metafile } from 'esbuild';
import { expect, it } from 'vitest';
import { CASES, SOURCES } from '../../bench/comparisons/start/cases.ts';
import { inWords } from '../../bench/comparisons/start/profile.ts';
import { bundle } from '../../infra/aws/bundle.js';
import { sourcesAtStart } from '../../infra/aws/bundleSizes.js';

/** The clients of the SDK that a bundle loads when it starts. */
function clientsOf(metafile: Metafile): string[] {
  const clients = sourcesAtStart(metafile).flatMap(
    (source) => /@aws-sdk\/(client-[\w-]+)/.exec(source)?.[1] ?? [],
  );
  return [...new Set(clients)].sort();
}

it('each function starts beside one that has the same clients of the SDK', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'brinebell-starts-'));
  try {
    const built = await bundle(SOURCES, join(folder, 'aws'));
    const of = (name: string) => clientsOf(built[name] ?? { inputs: {}, outputs: {} });
    for (const { name, lambda, beside } of CASES) {
      if (beside) expect(of(beside), name).toEqual(of(lambda));
    }
    expect(of('emptyTableFilesCatalogue')).toEqual(['client-dynamodb', 'client-glue', 'client-s3']);
  } finally {
    await rm(folder, { recursive: true });
  }
}, 120_000);

it('says what a start takes beyond another, most first, and leaves out what is next to nothing', () => {
  const mine = {
    cpuMs: 200,
    shares: new Map([
      ['zod', 0.1],
      ['the SDK', 0.4],
      ['our own code', 0.5],
    ]),
  };
  const other = {
    cpuMs: 100,
    shares: new Map([
      ['the SDK', 0.79],
      ['the runtime itself', 0.21],
    ]),
  };
  expect(inWords(mine, other)).toBe(
    'by the profiles of both, it takes beyond the bare one 100 ms for our own code, 20 ms for zod.',
  );
});
