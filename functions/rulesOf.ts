import type { Company } from '../lib/store/company.ts';
import defaults from '../lib/watch/defaultRules.json';
import type { Rules } from '../lib/watch/rules.ts';

/**
 * The rules of a company: the defaults with what it overrides. Most override nothing, and for those the defaults are worked
 * out beforehand: to make the schema of all rules takes longer than all else that a function does when it starts.
 *
 * @throws ZodError if it overrides what the schema does not let it
 */
export async function rulesOf(company: Pick<Company, 'rules'> | undefined): Promise<Rules> {
  const { rules = {} } = company ?? {};
  if (Object.keys(rules).length === 0) return defaults;
  const { rulesSchema } = await import('../lib/watch/rules.ts');
  return rulesSchema.parse(rules);
}
