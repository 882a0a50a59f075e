import type { Registry } from '../../shared/registry.ts';
import { CommandError } from '../errors.ts';

/**
 * The company that a report is of: the one that is named, or the only one of the registry.
 *
 * @throws CommandError `usage` if it is not in the registry, or none is named of several
 */
export function companyOf({ units }: Registry, named: string | undefined, path: string): string {
  const companies = [...new Set([...units.values()].map(({ companyId }) => companyId))].sort();
  const [only] = companies;
  if (only === undefined)
    throw new CommandError('usage', `there are no units in ${path}`, 'Name a registry of units.');
  if (named === undefined && companies.length === 1) return only;
  if (named !== undefined && companies.includes(named)) return named;
  throw new CommandError(
    'usage',
    named === undefined ? `${path} is of several companies` : `there are no units of ${named} in ${path}`,
    `Name one as --company: ${companies.join(', ')}.`,
  );
}
