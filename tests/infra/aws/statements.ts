import { flattenCfnReference } from 'cdk-nag/lib/utils/flatten-cfn-reference.js';
import * as z from 'zod';
import type { Resource, Templates } from './templates.ts';

const listSchema = z.union([z.string().transform((one) => [one]), z.array(z.string())]);

export const statementSchema = z.strictObject({
  Sid: z.string().optional(),
  Effect: z.enum(['Allow', 'Deny']),
  Action: listSchema,
  Principal: z.unknown().optional(),
  Resource: z.unknown().optional(),
  NotResource: z.unknown().optional(),
  Condition: z.record(z.string(), z.record(z.string(), z.unknown())).optional(),
});

export type Statement = z.infer<typeof statementSchema> & {
  readonly on: Resource;
  /** Whose policy it is in. */
  readonly of: 'role' | 'trust' | 'resource' | 'meter';
};

/** Every statement that stands anywhere in any resource's properties, whatever the resource is. */
export function everyStatement({ resources }: Templates): Statement[] {
  return resources.flatMap((on) => {
    return statementsIn(on.Properties, holderOf(on.Type)).map(([statement, of]) => ({
      ...statementSchema.parse(statement),
      ...{ on, of },
    }));
  });
}

/** Policies of AWS IoT Core are those of whoever signs in with a certificate. */
function holderOf(type: string): Statement['of'] {
  if (type === 'AWS::IoT::Policy') return 'meter';
  return ['AWS::IAM::Role', 'AWS::IAM::Policy', 'AWS::IAM::ManagedPolicy'].includes(type)
    ? 'role'
    : 'resource';
}

function statementsIn(value: unknown, of: Statement['of']): [unknown, Statement['of']][] {
  if (Array.isArray(value)) return value.flatMap((item) => statementsIn(item, of));
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => {
    if (key === 'Statement') return [inner].flat().map((one): [unknown, Statement['of']] => [one, of]);
    return statementsIn(inner, key === 'AssumeRolePolicyDocument' ? 'trust' : of);
  });
}

/** The resources of a statement, as cdk-nag writes them. */
export function resourcesOf({ Resource, NotResource }: Statement): string[] {
  const but = NotResource === undefined ? [] : [NotResource].flat();
  return [
    ...[Resource ?? []].flat().map(flattenCfnReference),
    ...but.map((resource) => `all but ${flattenCfnReference(resource)}`),
  ];
}
