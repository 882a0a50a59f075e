import { readFileSync } from 'node:fs';
import type { CloudAssembly } from 'aws-cdk-lib/cx-api';
import * as z from 'zod';

const resourceSchema = z.object({
  Type: z.string(),
  Properties: z.record(z.string(), z.unknown()).default({}),
  DeletionPolicy: z.string().optional(),
  DependsOn: z.union([z.string().transform((id) => [id]), z.array(z.string())]).default([]),
  Metadata: z.record(z.string(), z.unknown()).default({}),
});

const templateSchema = z.object({
  Resources: z.record(z.string(), resourceSchema),
  Outputs: z
    .record(z.string(), z.object({ Value: z.unknown(), Export: z.object({ Name: z.unknown() }).optional() }))
    .default({}),
});

type Template = z.infer<typeof templateSchema>;

export interface Resource extends z.infer<typeof resourceSchema> {
  /** The stack, without what the deployment's name begins with: `Data`. */
  readonly stack: string;
  readonly id: string;
  /** The stack and the construct: `Functions/Ingest/Role`. */
  readonly path: string;
}

/** The templates of a deployment, with references told by the constructs that they mean. */
export class Templates {
  readonly #templates: ReadonlyMap<string, Template>;
  readonly #exports = new Map<string, { readonly stack: string; readonly value: unknown }>();
  readonly resources: readonly Resource[];

  constructor({ stacks }: Pick<CloudAssembly, 'stacks'>) {
    this.#templates = new Map(
      stacks.map(({ id, templateFullPath }) => [
        id.replace(/^Brinebell-\w+-/, ''),
        templateSchema.parse(JSON.parse(readFileSync(templateFullPath, 'utf8'))),
      ]),
    );
    this.resources = [...this.#templates].flatMap(([stack, { Resources }]) =>
      Object.entries(Resources).map(([id, resource]) => ({
        ...resource,
        ...{ stack, id, path: pathOf(stack, id, resource.Metadata) },
      })),
    );
    for (const [stack, { Outputs }] of this.#templates) {
      for (const { Value: value, Export } of Object.values(Outputs)) {
        if (typeof Export?.Name === 'string') this.#exports.set(Export.Name, { stack, value });
      }
    }
  }

  get stacks(): readonly string[] {
    return [...this.#templates.keys()];
  }

  template(stack: string): unknown {
    return this.#templates.get(stack);
  }

  ofType(type: string): readonly Resource[] {
    return this.resources.filter(({ Type }) => Type === type);
  }

  /** @throws if there is not exactly one */
  only(type: string, path?: string): Resource {
    const found = this.ofType(type).filter((resource) => path === undefined || resource.path === path);
    const [one] = found;
    if (!one || found.length > 1) throw new Error(`${found.length} of ${type} ${path ?? ''}`);
    return one;
  }

  /** A value as text: `<Data/Table.Arn>/index/list` of an attribute of another stack's table, joined with a name. */
  told(stack: string, value: unknown): string {
    if (typeof value === 'string' || typeof value === 'number') return String(value);
    const [[kind, argument] = []] = Object.entries(z.record(z.string(), z.unknown()).parse(value));
    if (kind === 'Ref') return `<${this.#pathIn(stack, z.string().parse(argument))}>`;
    if (kind === 'Fn::GetAtt') {
      const [id, attribute] = z.tuple([z.string(), z.string()]).parse(argument);
      return `<${this.#pathIn(stack, id)}.${attribute}>`;
    }
    if (kind === 'Fn::Join') {
      const [by, parts] = z.tuple([z.string(), z.array(z.unknown())]).parse(argument);
      return parts.map((part) => this.told(stack, part)).join(by);
    }
    if (kind === 'Fn::Sub')
      return z
        .string()
        .parse(argument)
        .replace(/\$\{([^}]+)\}/g, '<$1>');
    if (kind === 'Fn::ImportValue') {
      const found = this.#exports.get(z.string().parse(argument));
      if (found) return this.told(found.stack, found.value);
    }
    throw new Error(`What is ${JSON.stringify(value)} in ${stack}?`);
  }

  #pathIn(stack: string, id: string): string {
    if (id.startsWith('AWS::')) return id;
    const found = this.resources.find((resource) => resource.stack === stack && resource.id === id);
    if (!found) throw new Error(`${stack} has no ${id}`);
    return found.path;
  }
}

function pathOf(stack: string, id: string, metadata: Readonly<Record<string, unknown>>): string {
  const path = metadata['aws:cdk:path'];
  if (typeof path !== 'string') return `${stack}/${id}`;
  return path.replace(/^Brinebell-\w+-/, '').replace(/\/(Resource|Default)$/, '');
}
