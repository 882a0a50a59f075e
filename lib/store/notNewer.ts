import type { Condition } from './requests.ts';

/** That an item was taken from no later version of the head than this. */
export function notNewer(version: number): Required<Condition> {
  return { expression: 'attribute_not_exists(v) OR v <= :version', values: { ':version': version } };
}
