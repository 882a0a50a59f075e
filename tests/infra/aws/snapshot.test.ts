import { expect, it } from 'vitest';
import { synthAll } from './synthed.ts';
import type { Templates } from './templates.ts';

const all = synthAll();

it.each(all)('makes of %s so many of each', async (name, { templates }) => {
  const counts: Record<string, number> = {};
  for (const { Type } of templates.resources) counts[Type] = (counts[Type] ?? 0) + 1;
  const lines = Object.entries(counts)
    .sort(([a], [b]) => a.localeCompare(b))
    .map(([type, count]) => `${String(count).padStart(3)} ${type}`);
  await expect(`${lines.join('\n')}\n`).toMatchFileSnapshot(`snapshots/${name.replace(', with ', '-')}.txt`);
});

it('makes of the smallest deployment what is written down, stack by stack', async () => {
  const [, small] = all[0] ?? [];
  if (!small) throw new Error('There is none');
  for (const stack of small.templates.stacks)
    await expect(drawn(small.templates, stack)).toMatchFileSnapshot(`snapshots/small/${stack}.txt`);
});

/** A template as people can read it: a line for each property, references by the constructs that they mean. */
function drawn(templates: Templates, stack: string): string {
  // Alarms are their catalogue's, which another test holds them to.
  const resources = templates.resources.filter(
    (resource) => resource.stack === stack && resource.Type !== 'AWS::CloudWatch::Alarm',
  );
  return resources
    .map(({ path, Type, DeletionPolicy, Properties }) => {
      const head = `${path.slice(stack.length + 1)}: ${Type}${DeletionPolicy ? `, ${DeletionPolicy}` : ''}`;
      const lines = Object.entries(Properties)
        .filter(([property]) => !property.endsWith('Tags'))
        .map(([property, value]) => `  ${property}: ${withoutHashes(text(templates, stack, value))}`);
      return [head, ...lines, ''].join('\n');
    })
    .join('\n');
}

function text(templates: Templates, stack: string, value: unknown): string {
  const told = (inner: unknown): unknown => {
    if (Array.isArray(inner)) return inner.map(told);
    if (typeof inner !== 'object' || inner === null) return inner;
    if (Object.keys(inner).some((key) => /^(Ref|Fn::\w+)$/.test(key))) return templates.told(stack, inner);
    return Object.fromEntries(Object.entries(inner).map(([key, each]) => [key, told(each)]));
  };
  const plain = told(value);
  return typeof plain === 'string' ? plain : JSON.stringify(plain);
}

/** What changes with the content of files alone. */
function withoutHashes(line: string): string {
  return line.replace(/\b[0-9a-f]{64}\b/g, 'HASH');
}
