import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { bundle, handlers } from '../../../infra/aws/bundle.js';
import type { FunctionName } from '../../../infra/topology.ts';

/** Functions of the cloud as they are deployed. */
export interface Bundles {
  pathOf(name: FunctionName): string;
  remove(): Promise<void>;
}

/** Bundles functions anew, into a folder of their own. */
export async function bundles(...names: readonly FunctionName[]): Promise<Bundles> {
  const folder = await mkdtemp(join(tmpdir(), 'brinebell-aws-'));
  const sources = Object.entries(handlers()).filter(([name]) => names.some((each) => each === name));
  await bundle(Object.fromEntries(sources), join(folder, 'out'));
  return {
    pathOf: (name) => join(folder, 'out', name, 'index.mjs'),
    remove: () => rm(folder, { recursive: true }),
  };
}
