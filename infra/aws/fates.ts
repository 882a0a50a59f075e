import * as z from 'zod';

const templateSchema = z.object({
  Resources: z
    .record(
      z.string(),
      z.object({
        Type: z.string(),
        DeletionPolicy: z.enum(['Delete', 'Retain', 'RetainExceptOnCreate', 'Snapshot']).optional(),
        Metadata: z.object({ 'aws:cdk:path': z.string().optional() }).optional(),
      }),
    )
    .default({}),
});

interface Fated {
  readonly type: string;
  /** Where it is in the stacks: `Brinebell-small-Data/Table`. */
  readonly path: string;
}

/** What becomes of everything when the stacks go. */
export interface Fates {
  /** Stays, and goes on costing what it costs. */
  readonly kept: readonly Fated[];
  /** Goes, and what is in it goes too. */
  readonly lost: readonly Fated[];
  /** Goes, and is made anew when it is deployed again; by type. */
  readonly made: ReadonlyMap<string, number>;
}

/**
 * Reads what becomes of everything from the templates themselves: a resource's deletion policy decides. The toolkit writes
 * `Delete` beside what holds something, and nothing beside the rest, which CloudFormation deletes too.
 *
 * @param templates as parsed JSON, by stack
 */
export function fatesOf(templates: ReadonlyMap<string, unknown>): Fates {
  const kept: Fated[] = [];
  const lost: Fated[] = [];
  const made = new Map<string, number>();
  for (const [stack, template] of templates) {
    for (const [id, { Type: type, DeletionPolicy, Metadata }] of Object.entries(
      templateSchema.parse(template).Resources,
    )) {
      const path = (Metadata?.['aws:cdk:path'] ?? `${stack}/${id}`).replace(/\/(Resource|Default)$/, '');
      if (DeletionPolicy === undefined) made.set(type, (made.get(type) ?? 0) + 1);
      else (DeletionPolicy === 'Delete' ? lost : kept).push({ type, path });
    }
  }
  return { kept, lost, made };
}

/** For people, a line each. */
export function fatesText({ kept, lost, made }: Fates): string {
  const lines = (all: readonly Fated[]) => all.map(({ type, path }) => `  ${type}  ${path}`);
  return [
    'Kept, with what is in it; it goes on costing until somebody deletes it by hand:',
    ...(kept.length > 0 ? lines(kept) : ['  nothing']),
    '',
    'Taken away, with what is in it:',
    ...(lost.length > 0 ? lines(lost) : ['  nothing']),
    '',
    'Taken away, and made anew when it is deployed again, with other names and addresses:',
    ...[...made].sort(([a], [b]) => a.localeCompare(b)).map(([type, count]) => `  ${count} ${type}`),
  ].join('\n');
}
