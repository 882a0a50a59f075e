import { type Rules, rulesSchema } from '../../lib/watch/rules.ts';
import { firstIssue } from '../../shared/zodIssue.ts';
import { CommandError } from '../errors.ts';
import { readText } from '../replay/source.ts';

const ADVICE = 'brinebell schema writes what rules may be; rules that are left out keep their defaults.';

/**
 * The rules that a file overrides, the others by default; all by default without a file.
 *
 * @throws CommandError `rules-invalid`, or as reading a file does
 */
export async function rulesIn(path: string | undefined): Promise<Rules> {
  if (path === undefined) return rulesSchema.parse({});
  const text = await readText(path);
  let json: unknown;
  try {
    json = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (error) {
    throw new CommandError(
      'rules-invalid',
      `${path} is not JSON: ${error instanceof Error ? error.message : ''}`,
      ADVICE,
    );
  }
  const parsed = rulesSchema.safeParse(json);
  if (!parsed.success)
    throw new CommandError('rules-invalid', `${path}: ${firstIssue(parsed.error)}`, ADVICE);
  return parsed.data;
}
