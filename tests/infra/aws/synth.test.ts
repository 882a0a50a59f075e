import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, expect, it } from 'vitest';
import { FUNCTIONS } from '../../../infra/topology.ts';
import { emptyBundles } from './synthed.ts';

const root = fileURLToPath(new URL('../../..', import.meta.url));
const NO_NETWORK = new URL('../../support/noNetwork.js', import.meta.url).href;
const TIMEOUT_MS = 240_000;

const home = mkdtempSync(join(tmpdir(), 'brinebell-home-'));
afterAll(() => rmSync(home, { recursive: true }));
const bundles = emptyBundles(Object.keys(FUNCTIONS));

/** Runs the toolkit as somebody does who has neither account nor network. */
function cdk(...args: readonly string[]) {
  const ours = Object.entries(process.env).filter(([name]) => !/^(AWS_|CDK_|VITEST|NODE_OPTIONS)/.test(name));
  return spawnSync('npx', ['--no-install', 'cdk', ...args], {
    cwd: root,
    encoding: 'utf8',
    env: {
      ...Object.fromEntries(ours),
      ...{ HOME: home, BRINEBELL_BUNDLES: bundles, NODE_OPTIONS: `--import ${NO_NETWORK}` },
    },
  });
}

it(
  'synthesizes with neither account nor network, and the toolkit finds nothing wrong with it',
  () => {
    const wishes = [
      'stage=large',
      'operatorMail=a@example.com',
      'mailFrom=b@example.com',
      'objectLockDays=30',
    ];
    const contexts = wishes.flatMap((wish) => ['--context', wish]);
    const { status, stderr } = cdk('synth', '--quiet', '--output', home, ...contexts);
    expect([status, stderr]).toEqual([0, expect.not.stringMatching(/error|warning/i)]);
    const templates = readdirSync(home).filter((name) => name.endsWith('.template.json'));
    expect(templates).toContain('Brinebell-large-Functions.template.json');
    expect(templates.length).toBeGreaterThan(8);
  },
  TIMEOUT_MS,
);

it(
  'says which stages there are where none is named',
  () => {
    const { status, stderr } = cdk('synth', '--quiet', '--output', join(home, 'none'));
    expect(status).not.toBe(0);
    expect(stderr).toContain('--context stage: ');
    expect(stderr).toContain('--context stage=small');
    expect(stderr).not.toContain('    at ');
  },
  TIMEOUT_MS,
);
