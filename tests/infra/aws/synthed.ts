import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { App } from 'aws-cdk-lib';
import { afterAll } from 'vitest';
import settings from '../../../cdk.json' with { type: 'json' };
import { build, TOPOLOGY } from '../../../infra/aws/app.ts';
import type { CloudTopology } from '../../../infra/aws/cloudTopology.ts';
import { Templates } from './templates.ts';

/** A deployment as it was synthesized. */
export interface Synthed {
  readonly app: App;
  readonly topology: CloudTopology;
  readonly stage: 'small' | 'large';
  readonly templates: Templates;
}

interface Asked {
  readonly context: { readonly stage: 'small' | 'large'; readonly [key: string]: string };
  readonly topology?: CloudTopology;
}

/** All that can be asked for. */
const ALL_WISHES = {
  operatorMail: 'operator@example.com',
  mailFrom: 'alerts@example.com',
  objectLockDays: '30',
  budgetDollars: '70',
  domain: 'water.example.com',
  certificateArn: 'arn:aws:acm:us-east-1:123456789012:certificate/0a1b2c3d-0000-0000-0000-000000000000',
};

/** What is looked at: each stage as it is asked for most simply, and each with everything. */
const DEPLOYMENTS = {
  small: { context: { stage: 'small' } },
  large: { context: { stage: 'large' } },
  'small, with everything': {
    context: { stage: 'small', ...ALL_WISHES },
  },
  'large, with everything': {
    context: { stage: 'large', ...ALL_WISHES },
  },
} as const satisfies Record<string, Asked>;

const folders: string[] = [];
afterAll(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

/** A folder with a bundle of next to nothing for each function. */
export function emptyBundles(names: readonly string[]): string {
  const folder = mkdtempSync(join(tmpdir(), 'brinebell-bundles-'));
  folders.push(folder);
  for (const name of [...names, 'publish']) {
    mkdirSync(join(folder, name));
    writeFileSync(join(folder, name, 'index.mjs'), `export const handler = () => '${name}';\n`);
  }
  return folder;
}

/** Makes an app without its templates. */
export function built({ context, topology = TOPOLOGY }: Asked) {
  const outdir = mkdtempSync(join(tmpdir(), 'brinebell-cdk-'));
  folders.push(outdir);
  const app = new App({
    ...{ outdir, analyticsReporting: false },
    context: { ...settings.context, 'aws:cdk:enable-path-metadata': true, ...context },
  });
  const bundles = emptyBundles(Object.keys(topology.functions));
  build(app, { bundles, topology });
  return { app, topology };
}

/** Synthesizes each deployment, without the toolkit's own look at the templates: `npx cdk synth` has that, and a test of it. */
export function synthAll(): readonly (readonly [name: string, synthed: Synthed])[] {
  process.env.CDK_VALIDATION = 'false';
  return Object.entries<Asked>(DEPLOYMENTS).map(([name, asked]) => {
    const { app, topology } = built(asked);
    const templates = new Templates(app.synth());
    return [name, { app, topology, templates, stage: asked.context.stage }];
  });
}
