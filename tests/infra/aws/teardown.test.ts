import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, expect, it } from 'vitest';
import { fatesOf, fatesText } from '../../../infra/aws/fates.ts';
import { teardown } from '../../../infra/aws/teardown.ts';
import { synthAll } from './synthed.ts';

const all = synthAll();
const folders: string[] = [];
afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true });
});

/** Takes a deployment down with a toolkit that only notes what it is told; `answer` is what somebody says when asked. */
async function tried(args: readonly string[], answer?: string) {
  const folder = mkdtempSync(join(tmpdir(), 'brinebell-teardown-'));
  folders.push(folder);
  const calls: string[] = [];
  const said: string[] = [];
  const [, small] = all[0] ?? [];
  const status = await teardown(args, {
    async cdk(given) {
      calls.push(given.join(' ').replaceAll(folder, 'FOLDER'));
      if (given[0] === 'synth') {
        for (const stack of small?.templates.stacks ?? [])
          writeFileSync(
            join(folder, `Brinebell-small-${stack}.template.json`),
            JSON.stringify(small?.templates.template(stack)),
          );
      }
      return 0;
    },
    say: (text) => said.push(text),
    ask: async () => answer,
    folder,
  });
  return { status, calls, said: said.join('\n') };
}

const CONTEXT = ['--context', 'stage=small'];
const SYNTH = 'synth --quiet --output FOLDER --context stage=small';
const DESTROY = 'destroy --all --force --app FOLDER';

it('says what stays and what goes before it asks, and does what it was told by the same templates', async () => {
  const { status, calls, said } = await tried(CONTEXT, 'yes');
  expect([status, ...calls]).toEqual([0, SYNTH, DESTROY]);
  const [kept = '', taken = ''] = said.split('Taken away, with what is in it:');
  for (const path of ['Data/Table', 'Data/Key', 'Files/Files', 'Identity/People'])
    expect(kept).toContain(path);
  expect(kept).not.toContain('Queues/');
  expect(taken).toMatch(/AWS::SQS::Queue {2}Brinebell-small-Queues\/Ingest\n/);
  expect(taken).toMatch(/\d+ AWS::IAM::Role/);
});

it.each(['no', '', 'Yes, please', undefined])('does nothing when it is answered %j', async (answer) => {
  const { status, calls, said } = await tried(CONTEXT, answer);
  expect([status, ...calls]).toEqual([1, SYNTH]);
  expect(said).toContain('Nothing was taken down.');
});

it('asks nothing with --yes', async () => {
  expect((await tried([...CONTEXT, '--yes'])).calls).toEqual([SYNTH, DESTROY]);
});

it.each([[[]], [['--yes']], [['--context']], [['--context', 'stage']], [['--all', ...CONTEXT]]])(
  'says how it is used when it is called with %j',
  async (args) => {
    const { status, calls, said } = await tried(args);
    expect([status, calls]).toEqual([2, []]);
    expect(said).toContain('Usage: npm run teardown');
  },
);

it('goes by the deletion policy, whatever the resource is', () => {
  const resource = (DeletionPolicy?: string) => ({
    Type: 'Any::Of::All',
    ...(DeletionPolicy && { DeletionPolicy }),
  });
  const policies = ['Retain', 'RetainExceptOnCreate', 'Snapshot', 'Delete', undefined];
  const Resources = Object.fromEntries(policies.map((policy) => [policy ?? 'None', resource(policy)]));
  const { kept, lost, made } = fatesOf(new Map([['S', { Resources }]]));
  expect(kept.map(({ path }) => path)).toEqual(['S/Retain', 'S/RetainExceptOnCreate', 'S/Snapshot']);
  expect(lost.map(({ path }) => path)).toEqual(['S/Delete']);
  expect(made).toEqual(new Map([['Any::Of::All', 1]]));
  expect(fatesText(fatesOf(new Map()))).toContain('  nothing');
});
