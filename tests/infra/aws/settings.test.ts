import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { build } from 'esbuild';
import { beforeAll, describe, expect, it } from 'vitest';
import * as z from 'zod';
import { handlers } from '../../../infra/aws/bundle.js';
import { ENVIRONMENT } from '../../../infra/aws/environment.ts';
import { BUNDLING, ROOT } from '../../../infra/bundling.js';
import { QUEUE_NAMES } from '../../../infra/topology.ts';
import { idIn, stackOf } from './expectedRights.ts';
import { synthAll } from './synthed.ts';

/** What each function's bundle asks of its environment: names of `ENVIRONMENT`, read from the sources that are in it. */
const asked = new Map<string, readonly string[]>();

beforeAll(async () => {
  for (const [name, source] of Object.entries(handlers())) {
    const { metafile } = await build({
      ...BUNDLING,
      ...{ entryPoints: [source], outfile: 'index.mjs', metafile: true, packages: 'external' },
    });
    const [output] = Object.values(metafile.outputs);
    const sources = Object.entries(output?.inputs ?? {})
      .filter(([path, { bytesInOutput }]) => bytesInOutput > 0 && path.startsWith('infra/aws/'))
      .map(([path]) => readFileSync(join(ROOT, path), 'utf8'));
    const names = sources.flatMap((text) =>
      [...text.matchAll(/\bENVIRONMENT\.(\w+)/g)].map(([, key]) => key),
    );
    asked.set(name, [...new Set(names.flatMap((key) => key ?? []))].sort());
  }
}, 60_000);

/** The name in `ENVIRONMENT` of a variable; those of queues have one name together. */
function nameOf(variable: string): string {
  for (const [name, value] of Object.entries(ENVIRONMENT)) {
    if (typeof value === 'string' ? value === variable : variable.startsWith(value(''))) return name;
  }
  return variable;
}

describe.each(synthAll())('%s: what functions are told', (_, { templates, topology }) => {
  it.each(Object.entries(topology.functions))('tells %s what it asks for, and nothing else', (name, spec) => {
    const { Properties } = templates.only(
      'AWS::Lambda::Function',
      `${stackOf(spec)}/${idIn(spec, name)}/Function`,
    );
    const { Variables } = z
      .object({ Variables: z.record(z.string(), z.unknown()) })
      .catch({ Variables: {} })
      .parse(Properties.Environment);
    const told = [...new Set(Object.keys(Variables).map(nameOf))].sort();
    // Without an address to send from there is no mail.
    const isLeftOut = (key: string) => key === 'mailFrom' && !templates.stacks.includes('Mail');
    expect(told).toEqual(asked.get(name)?.filter((key) => !isLeftOut(key)));
    // Of queues: those that it sends to; who sends dead letters again, all.
    const queues = spec.may.includes('dead-letters') ? QUEUE_NAMES : spec.sendsTo;
    expect(
      Object.keys(Variables)
        .filter((variable) => nameOf(variable) === 'queue')
        .sort(),
    ).toEqual(queues.map(ENVIRONMENT.queue).sort());
  });
});
