import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import * as z from 'zod';
import { alarmsOf, BUDGET } from '../../infra/aws/alarms.ts';
import manifest from '../../package.json' with { type: 'json' };
import { service } from '../functions/api/service.ts';
import { brinebell } from '../support/command.ts';

const text = readFileSync('docs/runbook.md', 'utf8');
const documentSchema = z.object({ paths: z.record(z.string(), z.record(z.string(), z.unknown())) });
const alarms = (['small', 'large'] as const).flatMap(alarmsOf);

/** What is of the cloud's stacks need not be there where they are not. */
const HAS_STACKS = existsSync('infra/aws/stacks');

/** Lines of shell in it. */
const commands = [...text.matchAll(/```sh\n([\s\S]*?)```/g)]
  .flatMap(([, block = '']) => block.trim().split('\n'))
  .concat([...text.matchAll(/`((?:npm|npx|node|aws) [^`]+)`/g)].map(([, command = '']) => command));

describe('the runbook', () => {
  it('has a section for every kind of alarm, and each section is of one', () => {
    const [, ofAlarms = ''] = /\n## Alarms\n([\s\S]*?)\n## /.exec(text) ?? [];
    const headings = [...ofAlarms.matchAll(/^### (.*)$/gm)].map(([, heading]) => heading);
    const kinds = new Set([...alarms, BUDGET].map(({ section }) => `\`${section}\``));
    expect(new Set(headings)).toEqual(kinds);
    expect(headings).toHaveLength(kinds.size);
  });

  it('says in each what it means, what to do, and, where somebody is woken, when', () => {
    const sections = text.split(/^### /m).slice(1);
    for (const { section, urgency } of alarms) {
      const own = sections.find((each) => each.startsWith(`\`${section}\`\n`)) ?? '';
      expect([section, /^Means: /m.test(own)]).toEqual([section, true]);
      expect([section, /^1\. /m.test(own)]).toEqual([section, true]);
      if (urgency === 'wake') expect([section, /^Wake: /m.test(own)]).toEqual([section, true]);
    }
  });

  it('names every alarm that wakes somebody where it says whom to wake', () => {
    const [wakes = ''] = /^Wake somebody for:[\s\S]*?\n\n/m.exec(text) ?? [];
    const waking = new Set(alarms.filter(({ urgency }) => urgency === 'wake').map(({ section }) => section));
    const named = new Set([...wakes.matchAll(/`([a-z-]+)`/g)].map(([, name]) => name));
    expect(named).toEqual(waking);
  });

  it('names no alarm, function or queue that there is not', () => {
    const kinds = new Set([...alarms, BUDGET].map(({ section }) => section));
    const names = new Set(alarms.map(({ name }) => name));
    const said = [...text.matchAll(/`([a-z]+(?:-[a-z]+)+(?:-[a-z]+)?)`/g)].map(([, name = '']) => name);
    const begun = said.filter((name) => [...kinds].some((kind) => name.startsWith(`${kind}-`)));
    expect(begun.filter((name) => !names.has(name) && !kinds.has(name))).toEqual([]);
    expect(begun.length).toBeGreaterThan(0);
  });
});

describe('what it names', () => {
  let paths: z.infer<typeof documentSchema>['paths'];

  beforeAll(async () => {
    ({ paths } = documentSchema.parse(await (await service().ask('GET', '/openapi.json')).json()));
  });

  it('are routes that there are, with methods that they take', () => {
    const asked = [...text.matchAll(/`(GET|PUT|POST|DELETE) (\/[^`\s?]*)/g)];
    expect(asked.length).toBeGreaterThan(30);
    for (const [, method = '', path = ''] of asked) {
      expect([path, Object.keys(paths[path] ?? {})]).toEqual([
        path,
        expect.arrayContaining([method.toLowerCase()]),
      ]);
    }
    const bare = [...text.matchAll(/(?<![\w"])(\/(?:v1|answer|health|metrics|openapi)[\w./{}-]*)/g)].map(
      ([, path = '']) => path.replace(/[.,:;]$/, ''),
    );
    expect(bare.filter((path) => !(path in paths))).toEqual([]);
  });

  it('are commands that there are', () => {
    expect(commands.length).toBeGreaterThan(8);
    const known = new Set(['npm', 'npx', 'node', 'aws', 'curl']);
    for (const command of commands) {
      const [tool = '', first = '', second = ''] = command.split(' ');
      expect([command, known.has(tool)]).toEqual([command, true]);
      if (tool === 'npm') {
        const script = first === 'run' ? second : first;
        const isThere = script in manifest.scripts || (script === 'teardown' && !HAS_STACKS);
        expect([command, isThere]).toEqual([command, true]);
      }
      if (tool === 'npx') {
        const packages = { brinebell: 'bin/brinebell.js', cdk: 'node_modules/aws-cdk/package.json' };
        expect([command, first in packages]).toEqual([command, true]);
        if (first === 'brinebell') expect(brinebell([second, '--help']).status).toBe(0);
      }
      if (tool === 'node') {
        expect([command, existsSync(first)]).toEqual([command, true]);
        if (first === 'bench/run.js') expect(readdirSync('bench')).toContain(`${second}.ts`);
      }
    }
  });

  it('are files that there are', () => {
    const files = [...text.matchAll(/(?<![\w/])((?:infra|bench|docs|functions|lib)\/[\w./]+\.\w+)/g)].map(
      ([, file = '']) => file,
    );
    expect(files.length).toBeGreaterThan(2);
    expect(
      files.filter((file) => !existsSync(file) && (HAS_STACKS || !file.startsWith('infra/aws/'))),
    ).toEqual([]);
  });
});
