import type { FunctionSpec, QueueName, QueueSpec, Source, WorkflowSpec } from '../topology.ts';

/** The topology as the stacks take it: they build whatever functions are in it. */
export interface CloudTopology {
  readonly queues: Readonly<Record<QueueName, QueueSpec>>;
  readonly functions: Readonly<Record<string, FunctionSpec>>;
  readonly trial: WorkflowSpec;
}

type KindOf<Each> = Each extends Each ? keyof Each : never;

/** The functions of a kind of source, by name. */
export function functionsOf(
  { functions }: CloudTopology,
  kind: KindOf<Source>,
): readonly (readonly [name: string, spec: FunctionSpec])[] {
  return Object.entries(functions).filter(([, { source }]) => kind in source);
}
