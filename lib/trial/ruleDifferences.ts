import * as z from 'zod';
import type { Rules } from '../watch/rules.ts';

/** One number of the rules that the proposal changes. */
export const ruleDifferenceSchema = z.object({
  rule: z.string().describe('Its place among the rules: names with dots between them'),
  before: z.unknown(),
  after: z.unknown(),
});

export type RuleDifference = z.infer<typeof ruleDifferenceSchema>;

/** All that the two sets of rules differ in, in the order of the rules. */
export function ruleDifferences(present: Rules, proposed: Rules): RuleDifference[] {
  return differences('', present, proposed);
}

function differences(rule: string, before: unknown, after: unknown): RuleDifference[] {
  if (isGroup(before) && isGroup(after)) {
    const names = new Set([...Object.keys(before), ...Object.keys(after)]);
    return [...names].flatMap((name) =>
      differences(rule === '' ? name : `${rule}.${name}`, before[name], after[name]),
    );
  }
  return JSON.stringify(before) === JSON.stringify(after) ? [] : [{ rule, before, after }];
}

function isGroup(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
